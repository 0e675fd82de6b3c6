// Where a walk stands, and what a record means for it once it is stored.

import type { BedID, Day, PlantID } from '../crop/nouns'
import type { Tap, Telling } from '../ui/taps'
import type { Action, Journal } from './journal'

export type Mode = 'number' | 'grid'

/** Where a walk stands; `at` is empty at its end. */
export interface Position {
  readonly bed: BedID
  readonly day: Day
  readonly at: PlantID | ''
  readonly mode: Mode
  /** It was begun so that plants may be passed by without a trace, and so goes on from where it stands. */
  readonly passes?: boolean
}

export interface Stored {
  readonly action: Action
  readonly takenBack: boolean
}

/** What a record means for the walk. */
export interface Step {
  /** The journal once it is stored. */
  readonly told: (journal: Journal | undefined) => Journal | undefined
  /** Where the walk then stands; the same position where it stays. */
  readonly goes: (position: Position) => Position
  readonly stored: () => void
}

export type WalkTap = (Telling | Tap) & Step

export function stays(position: Position): Position {
  return position
}
