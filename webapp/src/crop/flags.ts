// Raising and clearing flags, writing and withdrawing notes. Both are elements of a plant's sets that
// carry their day and person, so that what is cleared stays readable.

import type { Fact } from '../log/change'
import { markFacts } from './facts'
import { formatFlag, formatNote } from './marks'
import type { Day, Farm, Flag, FlagKind, Note, PersonID, Plant, PlantID } from './nouns'

/** Characters of a note, as people count them. */
export const longestNote = 500

/** The flag of a kind that stands at a plant, the newest where several people raised it. */
export function standingFlag(plant: Pick<Plant, 'flags'>, kind: FlagKind): Flag | undefined {
  return plant.flags.find((flag) => flag.kind === kind)
}

export function raiseFacts(plant: PlantID, kind: FlagKind, day: Day, by: PersonID | ''): Fact[] {
  return markFacts(plant, 'flags', formatFlag({ kind, day, by }), true)
}

/** Clears a kind, every flag of it that stands, whoever raised it; or undoes that: the same flags again, with their own days and persons. */
export function kindFacts(plant: Pick<Plant, 'id' | 'flags'>, kind: FlagKind, on: boolean): Fact[] {
  return plant.flags.filter((flag) => flag.kind === kind).flatMap((flag) => markFacts(plant.id, 'flags', formatFlag(flag), on))
}

/**
 * What a tap on a kind does: raises it, or clears it where it stands. Asked of the farm as it is when the
 * turn to store comes, since taps are quicker than a disk.
 */
export function toggleFacts(farm: Pick<Farm, 'plants'>, id: PlantID, kind: FlagKind, day: Day, by: PersonID | ''): Fact[] {
  const plant = farm.plants.get(id)
  return plant && standingFlag(plant, kind) ? kindFacts(plant, kind, false) : raiseFacts(id, kind, day, by)
}

/** A note as it is kept: without white space around it. */
export function noteText(written: string): string {
  return written.trim().normalize('NFC')
}

/** By how many characters a text is too long for a note; 0 where it fits. */
export function beyondNote(written: string): number {
  return Math.max(0, [...noteText(written)].length - longestNote)
}

/** Puts a note to a plant, or withdraws it. */
export function noteFacts(plant: PlantID, note: Note, on: boolean): Fact[] {
  return markFacts(plant, 'notes', formatNote(note), on)
}
