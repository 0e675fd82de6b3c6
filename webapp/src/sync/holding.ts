// One tab at a time holds a farm (Web Locks).

/** Lets go of the farm. */
export type Release = () => void

/** A page that is being reloaded may hold its lock for a moment longer. */
const patience = 1_000

/**
 * Takes hold of a farm; undefined where another tab has it and is not to be taken over. onLost is
 * called when another tab takes it over later. Where the browser knows no locks (a page without
 * https), the holder's token in the database is what keeps two tabs apart: the newer one writes.
 */
export async function holdFarm(
  farm: string, takeOver: boolean, onLost: () => void, locks: LockManager | undefined,
): Promise<Release | undefined> {
  if (!locks) return () => {}
  const options: LockOptions = takeOver ? { steal: true } : { signal: AbortSignal.timeout(patience) }
  return new Promise((resolve, reject) => {
    let held = false
    const hold = () => new Promise<void>(release => {
      held = true
      resolve(release)
    })
    locks.request(`corymb farm ${farm}`, options, hold).catch((reason: unknown) => {
      if (held) onLost()
      else if (isTimeout(reason)) resolve(undefined)
      else reject(reason instanceof Error ? reason : new Error(String(reason)))
    })
  })
}

function isTimeout(reason: unknown): boolean {
  return reason instanceof DOMException && (reason.name === 'TimeoutError' || reason.name === 'AbortError')
}
