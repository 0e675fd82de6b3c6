// From facts to what is worth saying. Mirrors internal/changelog/record.go.

import { canonicalValue } from './canonical'
import type { Fact, Value } from './change'
import { recordedSinceWithdrawal } from './look'
import { fieldWithdrawn } from './read'
import type { Entity, SlotKey } from './state'
import { slotName, slotOf } from './state'

/** Where a fact would compete if this writer said it. A correction's slot is not known before its seq. */
export function slotOfFact(f: Fact, incarnation: string): SlotKey {
  return slotOf({ ...f, incarnation, seq: 0 })
}

/**
 * Tells whether the fact stands there already with the same value. A withdrawal above which
 * something was recorded does not: it must be said again, to lie above that.
 */
export function stands(f: Fact, entity: Entity | undefined, incarnation: string): boolean {
  const standing = entity?.slots.get(slotName(slotOfFact(f, incarnation)))?.entry
  if (!entity || standing?.op !== f.op || !sameFact(standing, f)) return false
  return f.field !== fieldWithdrawn || !recordedSinceWithdrawal(entity)
}

function sameFact(a: Pick<Fact, 'value' | 'extra'>, b: Pick<Fact, 'value' | 'extra'>): boolean {
  return sameValue(a.value, b.value) && sameExtra(a.extra ?? {}, b.extra ?? {})
}

function sameValue(a: Value, b: Value): boolean {
  return canonicalValue(a) === canonicalValue(b)
}

function sameExtra(a: Readonly<Record<string, Value>>, b: Readonly<Record<string, Value>>): boolean {
  const names = Object.keys(a)
  return names.length === Object.keys(b).length && names.every(n => b[n] !== undefined && sameValue(a[n]!, b[n]!))
}
