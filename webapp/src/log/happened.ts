// How an entity came to stand as it does, as far as the merge state still tells: of a field the last
// setting, of a writer the last count, and every correction.

import type { Op, Value } from './change'
import { standingIn } from './count'
import { extraSaw } from './identity'
import { numberIn } from './correction'
import { cells } from './read'
import type { Entity, Entry } from './state'
import { compareEntries } from './state'

export interface Happening {
  readonly op: Op
  readonly field: string
  readonly value: Value
  /** Of a correction, the total that its maker saw, and what they made of it. */
  readonly before: number
  readonly after: number
  /** In ms since 1970, by the order that the shed gave it; until then by the phone's clock. */
  readonly at: number
  readonly person: string
  readonly incarnation: string
}

/** Everything that stands in an entity, the oldest first. */
export function happened(e: Entity): Happening[] {
  return [...fieldsAndSets(e), ...cells(e).flatMap(cell => inCell(e, cell))]
    .sort((a, b) => compareEntries(a.entry, b.entry))
    .map(({ field, entry }) => happeningOf(field, entry))
}

interface Stood {
  readonly field: string
  readonly entry: Entry
}

function fieldsAndSets(e: Entity): Stood[] {
  return [...e.slots.values()]
    .filter(({ key }) => key.op !== 'count' && key.op !== 'correct')
    .map(({ key, entry }) => ({ field: key.field, entry }))
}

function inCell(e: Entity, cell: string): Stood[] {
  const { counts, corrections } = standingIn(e, cell)
  return [...counts, ...corrections].map(entry => ({ field: cell, entry }))
}

function happeningOf(field: string, entry: Entry): Happening {
  const { op, value, order, person, incarnation } = entry
  const saw = entry.extra?.[extraSaw]
  const before = op === 'correct' && typeof saw === 'number' ? saw : 0
  return { op, field, value, before, after: before + numberIn(entry), at: order.l, person, incarnation }
}
