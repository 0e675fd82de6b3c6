// The packed batch in which changes travel and are stored (PROTOCOL.md, section 4): its parts and
// limits. Writing is in batch_pack.ts, reading in batch_unpack.ts. Mirrors syncproto/pack.go.

import type { Change, Stamp } from './change'
import type { Origin } from './origin'

export interface Batch {
  readonly changes: readonly Change[]
  /** The orders given, one for each change, null where it is not told; left out where none is told. */
  readonly orders?: readonly (Stamp | null)[]
  /** Which ids were derived, and from what. It may hold more. */
  readonly origins?: ReadonlyMap<string, Origin>
}

/** Goes on with the names of this direction of the conversation. */
export const modeLinked = 0
/** Forgets them first. */
export const modeAnew = 1
/** Has names of its own, and leaves the conversation's alone. */
export const modeAlone = 2

/** Tells whether a batch can be read without any other. */
export function standsAlone(batch: Uint8Array): boolean {
  return batch[0] === modeAlone
}

/** Names that one direction of a conversation may hold, and their bytes. */
export const maxNames = 1 << 18
export const maxNamesBytes = 8 << 20
/** Elements of all lists of a batch: a column of them can be far shorter than they are. */
export const maxElements = 65_536

/** What stands for the shape of a value. */
export const kindNumber = 0
export const kindText = 1
export const kindList = 2
