// Whether the browser's storage can be relied on, and what is to be said where it cannot.

/**
 * 'closed': the browser closed the database under the open page; 'lost': a farm was kept here and is
 * gone; 'nearly_full': there is little room left; 'not_persistent': the browser may delete it.
 */
export type StorageTrouble = 'closed' | 'lost' | 'nearly_full' | 'not_persistent'

/** Something is gone, or all that follows would be. */
export function isLoss(trouble: StorageTrouble): boolean {
  return trouble === 'closed' || trouble === 'lost'
}

/** What is known of the storage; undefined where the browser does not say. */
export interface StorageFacts {
  readonly persisted?: boolean | undefined
  /** Bytes in use by this site, and bytes that it may use. */
  readonly usage?: number | undefined
  readonly quota?: number | undefined
  readonly closed: boolean
  readonly lost: boolean
}

/** Bytes below which there is little room left, and share of the quota above which there is. */
const leastRoom = 50e6
const mostUsed = 0.9

/** The gravest first. */
export function troublesOf({ persisted, usage, quota, closed, lost }: StorageFacts): StorageTrouble[] {
  const troubles: StorageTrouble[] = []
  if (closed) troubles.push('closed')
  if (lost) troubles.push('lost')
  if (isNearlyFull(usage, quota)) troubles.push('nearly_full')
  if (persisted === false) troubles.push('not_persistent')
  return troubles
}

function isNearlyFull(usage: number | undefined, quota: number | undefined): boolean {
  if (usage === undefined || quota === undefined || quota <= 0) return false
  return quota - usage < leastRoom || usage > mostUsed * quota
}

/** Asks how things stand and, where asked to, that nothing be deleted here. A browser need not answer. */
export async function askStorage(storage: StorageManager | undefined, persist = true): Promise<Pick<StorageFacts, 'persisted' | 'usage' | 'quota'>> {
  if (!storage) return {}
  try {
    const persisted = (await storage.persisted?.()) || (persist && (await storage.persist?.()))
    const { usage, quota } = (await storage.estimate?.()) ?? {}
    return { persisted, usage, quota }
  } catch (reason) {
    console.error('asking how the storage stands', reason) // nothing is claimed then
    return {}
  }
}

/**
 * Remembers outside of the database that a farm is kept on this device, so that an emptied database is
 * not taken for a new device.
 */
export class FarmMarker {
  constructor(private readonly storage: Storage | undefined) {}

  get farm(): string {
    try {
      return this.storage?.getItem(markerName) ?? ''
    } catch {
      return '' // closed to this page: then nothing can be told
    }
  }

  set(farm: string): void {
    try {
      this.storage?.setItem(markerName, farm)
    } catch (reason) {
      console.error('remembering that a farm is kept here', reason) // only a warning is lost with it
    }
  }
}

const markerName = 'corymb farm'
