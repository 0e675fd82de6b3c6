// The device's storage while a notebook is open: what was lost before, how it stands, and whether it
// is taken away.

import type { StorageFacts } from '../db/health'
import { askStorage, FarmMarker } from '../db/health'
import type { Contents, Write } from '../db/records'
import type { Book } from './book'

/** Kept while a person has not read that the browser emptied this device's storage. */
export const keptLoss = 'storage.lost'

/** What of the browser is asked; tests bring their own. */
export interface StorageSurroundings {
  readonly manager?: StorageManager
  /** Where it is remembered that a farm is kept here. */
  readonly memory?: Storage
}

export const browserStorage = (): StorageSurroundings => {
  const manager = globalThis.navigator?.storage
  const memory = ownMemory()
  return { ...(manager && { manager }), ...(memory && { memory }) }
}

function ownMemory(): Storage | undefined {
  try {
    return globalThis.localStorage
  } catch {
    return undefined // closed to this page
  }
}

/** The pen, which is new on a new device; a device that has kept this farm before was emptied. */
export function firstWrites(book: Book, contents: Contents, { memory }: StorageSurroundings): Write[] {
  const lost = contents.pen === undefined && new FarmMarker(memory).farm === book.farm
  const writes: Write[] = [{ kind: 'pen', pen: book.pen }]
  return lost ? [...writes, { kind: 'kept', name: keptLoss, value: true }] : writes
}

/** Tells whether a farm was kept on this device. */
export function keptAFarm({ memory }: StorageSurroundings): boolean {
  return new FarmMarker(memory).farm !== ''
}

/** Remembers that the farm is kept here, once its first writes are on disk. */
export function rememberFarm(farm: string, { memory }: StorageSurroundings): void {
  new FarmMarker(memory).set(farm)
}

export interface StorageWatch {
  /** Looks how the storage stands now. */
  look(): void
  /** Something was recorded: browsers rather grant persistence once a site is in use, so it is asked again. */
  recorded(): void
}

/** Looks how the storage stands, and asks that nothing be deleted; some browsers ask the person about it. */
export function storageWatch({ manager }: StorageSurroundings, tell: (facts: Partial<StorageFacts>) => void): StorageWatch {
  const look = (persist: boolean) => void askStorage(manager, persist).then(tell)
  let used = false
  look(true)
  return {
    look: () => look(false),
    recorded: () => {
      if (!used) look(true)
      used = true
    },
  }
}
