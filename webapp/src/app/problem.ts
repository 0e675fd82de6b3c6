// Why the app cannot work on this phone.

import type { Barred, OpenProblem, StorageTrouble, SyncStatus } from '../sync/notebook'

/** That this device has to join first is said by the page where it does. */
export type Problem = Exclude<OpenProblem, Barred> | 'taken_over'

/** Why a notebook that is open has no farm to show yet; undefined where it has one, or is reading it. */
export function problemOf({ levelAt, link }: Pick<SyncStatus, 'levelAt' | 'link'>, storage: readonly StorageTrouble[]): Problem | undefined {
  if (levelAt > 0 || (link !== 'offline' && link !== 'refused')) return undefined
  // Of a phone that had the farm it would be untrue that it was never in reach of the shed.
  return storage.includes('lost') ? 'emptied' : 'no_farm'
}
