// Writing stems off and taking it back, as facts from the farm as it stands when its turn to be stored comes.

import { byLife, cooler, lotNamed } from '../crop/cooler'
import { withdrawnFact } from '../crop/facts'
import type { Day, Farm, PersonID } from '../crop/nouns'
import { shrinkFacts } from '../crop/sale_facts'
import type { ShrinkID, ShrinkReason } from '../crop/sale_nouns'
import type { Fact } from '../log/change'

export interface WrittenOff {
  readonly facts: readonly Fact[]
  readonly undo: readonly Fact[]
  readonly lots: number
  readonly stems: number
}

export interface Said {
  readonly date: Day
  readonly person: PersonID | ''
  readonly reason: ShrinkReason
  readonly what: string
}

/** So many stems of a lot, or 'all' that is left; undefined where that many are not there. */
export function writeOff(farm: Farm, cell: string, stems: number | 'all', said: Said, newID: () => string): WrittenOff | undefined {
  const lot = lotNamed(farm, cell, said.date)
  const n = stems === 'all' ? lot?.left ?? 0 : stems
  if (!lot || n < 1 || n > lot.left) return undefined
  const id = newID() as ShrinkID
  return { facts: shrinkFacts({ id, lot: lot.id, stems: n, ...said }), undo: [withdrawnFact('shrink', id, true, 'shed')], lots: 1, stems: n }
}

/** Everything that is past its vase life on the day; undefined where nothing is. */
export function writeOffPast(farm: Farm, said: Said, newID: () => string): WrittenOff | undefined {
  const { past } = byLife(cooler(farm, said.date))
  if (past.length === 0) return undefined
  const each = past.map((lot) => ({ id: newID() as ShrinkID, lot }))
  return {
    facts: each.flatMap(({ id, lot }) => shrinkFacts({ id, lot: lot.id, stems: lot.left, ...said })),
    undo: each.map(({ id }) => withdrawnFact('shrink', id, true, 'shed')),
    lots: past.length, stems: past.reduce((sum, { left }) => sum + left, 0),
  }
}
