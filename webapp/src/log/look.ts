// What a person should settle. Settling it is a change like any other. Mirrors
// internal/changelog/look.go.

import { count } from './count'
import { compareStamps, compareText } from './order'
import { cells, fieldWithdrawn, withdrawn } from './read'
import type { Entity, State } from './state'
import { slotName } from './state'

export interface Look {
  /**
   * 'missed': corrections that had not seen each other; 'twice': one writer's count held under two
   * incarnations; 'withdrawn': recorded for what had been withdrawn; 'negative': a count that its
   * corrections take below zero.
   */
  readonly kind: 'missed' | 'twice' | 'withdrawn' | 'negative'
  readonly type: string
  readonly id: string
  /** The count cell; empty for 'withdrawn'. */
  readonly field: string
}

/** Everything in a state that wants a look, sorted. */
export function looks(state: State): Look[] {
  return [...state].flatMap(looksOf).sort(compareLooks)
}

export function compareLooks(a: Look, b: Look): number {
  return (
    compareText(a.kind, b.kind) || compareText(a.type, b.type) || compareText(a.id, b.id) || compareText(a.field, b.field)
  )
}

export function looksOf(e: Entity): Look[] {
  const found: Look[] = []
  const look = (kind: Look['kind'], field: string) => found.push({ kind, ...e.key, field })
  for (const cell of cells(e)) {
    const { total, missed, twice } = count(e, cell)
    if (missed) look('missed', cell)
    if (twice) look('twice', cell)
    if (total < 0) look('negative', cell)
  }
  if (recordedSinceWithdrawal(e)) look('withdrawn', '')
  return found
}

/**
 * Tells whether something was recorded for an entity after it was withdrawn. What shares the
 * withdrawal's operation was known to whoever withdrew.
 */
export function recordedSinceWithdrawal(e: Entity): boolean {
  if (!withdrawn(e)) return false
  const withdrawal = e.slots.get(slotName({ op: 'set', field: fieldWithdrawn, part: '' }))!.entry.order
  return [...e.slots.values()].some(({ entry }) => compareStamps(entry.order, withdrawal) > 0)
}
