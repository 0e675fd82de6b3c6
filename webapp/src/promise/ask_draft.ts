// An ask as it is being typed, kept while one looks elsewhere.

import { signal } from '@preact/signals'
import { v4 as newUUID } from 'uuid'
import type { Ask, AskID } from '../crop/ahead_nouns'
import { type ColourID, type Day, mostBenchStems, type Millimetres, type ToldGrade } from '../crop/nouns'
import type { Bunch, BunchID, BuyerID } from '../crop/sale_nouns'
import type { Asked } from '../forecast/asking'

export interface AskDraft {
  readonly id: AskID
  /** As it is typed. */
  readonly stems: string
  /** '' before a day or a week is chosen; the same for a day, Monday and Sunday for any day of a week. */
  readonly from: Day | ''
  readonly due: Day | ''
  /** None is any. */
  readonly colours: readonly ColourID[]
  readonly grade: ToldGrade
  readonly length: Millimetres
  readonly buyer: BuyerID | ''
  readonly bunch: BunchID | ''
}

export const askDraft = signal<AskDraft>(emptyDraft())

export function emptyDraft(): AskDraft {
  return { id: newUUID() as AskID, stems: '', from: '', due: '', colours: [], grade: '', length: 0 as Millimetres, buyer: '', bunch: '' }
}

export function tellDraft(part: Partial<AskDraft>): void {
  askDraft.value = { ...askDraft.peek(), ...part }
}

/** An ask that was kept, to be answered anew. */
export function draftOf({ id, stems, from, due, colours, grade, length, buyer }: Ask): AskDraft {
  return { id, stems: String(stems), from, due, colours, grade, length, buyer, bunch: '' }
}

/** What is typed as a whole number of stems that a change may hold; 0 while nothing is typed, undefined where it is none. */
export function stemsTyped(text: string): number | undefined {
  if (text.trim() === '') return 0
  const stems = /^\d{1,6}$/.test(text.trim()) ? Number(text) : 0
  return stems >= 1 && stems <= mostBenchStems ? stems : undefined
}

/** What is asked; undefined before it says for when, or where its number is none. */
export function readDraft({ stems, from, due, colours, grade, length }: AskDraft): Asked | undefined {
  const n = stemsTyped(stems)
  return n === undefined || from === '' || due === '' ? undefined : { stems: n, from, due, colours, grade, length }
}

/** A rule for bunches says what their stems are at least. */
export function withBunch(bunch: Bunch | undefined): Partial<AskDraft> {
  return bunch ? { bunch: bunch.id, grade: bunch.grade, length: bunch.length } : { bunch: '' }
}

export function withColour(colours: readonly ColourID[], colour: ColourID): readonly ColourID[] {
  return colours.includes(colour) ? colours.filter((one) => one !== colour) : [...colours, colour]
}
