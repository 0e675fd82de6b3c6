// How often a camera's picture is looked at: one at a time, and resting as long as the last took, so that
// a slow phone is busy half of the time at most; and no longer than a minute without a code.

const leastRest = 150
/** Milliseconds after which a camera that sees no code is turned off. */
export const patience = 60_000

interface Watching<Picture, Found> {
  /** The picture now; undefined where the camera has none yet. */
  readonly picture: () => Picture | undefined
  readonly decode: (picture: Picture) => Promise<Found | undefined>
  /** Each time that a code is seen, the same one too. */
  readonly onCode: (found: Found) => void
  readonly onTired: () => void
  readonly onFailure: (reason: unknown) => void
}

/** Looks until it is told to stop, tires, or fails. Returns what stops it. */
export function watch<Picture, Found>({ picture, decode, onCode, onTired, onFailure }: Watching<Picture, Found>): () => void {
  let over = false
  let timer: ReturnType<typeof setTimeout> | undefined
  let lastCode = performance.now()
  const look = async () => {
    const from = performance.now()
    const now = picture()
    const found = now && (await decode(now))
    if (over) return
    const done = performance.now()
    if (found !== undefined) {
      lastCode = done
      onCode(found)
    } else if (done - lastCode >= patience) {
      return onTired()
    }
    if (!over) next(done - from)
  }
  const next = (took: number) => {
    timer = setTimeout(() => void look().catch((reason: unknown) => { if (!over) onFailure(reason) }), Math.max(leastRest, took))
  }
  next(0)
  return () => {
    over = true
    clearTimeout(timer)
  }
}
