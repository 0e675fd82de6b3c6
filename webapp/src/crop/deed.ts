// What is to be recorded at one tap, and what takes it back.

import type { Fact, Value } from '../log/change'

export interface Deed {
  readonly facts: readonly Fact[]
  /** Takes it back; empty where nothing is to be taken back. */
  readonly undo: readonly Fact[]
}

/** Several deeds as one. */
export function together(...deeds: readonly Deed[]): Deed {
  return { facts: deeds.flatMap(({ facts }) => facts), undo: deeds.flatMap(({ undo }) => undo) }
}

/** Neither says anything nor has anything to be taken back. */
export const nothing: Deed = { facts: [], undo: [] }

/** What of a noun is said anew when it becomes another: the fields that differ, as others may be changed elsewhere. */
export function changing(before: readonly Fact[], after: readonly Fact[]): Deed {
  return { facts: differing(before, after), undo: differing(after, before) }
}

function differing(before: readonly Fact[], after: readonly Fact[]): Fact[] {
  const was = new Map(before.map((fact) => [slot(fact), fact.value]))
  const told = new Set(after.map(slot))
  const emptied = before.filter((fact) => !told.has(slot(fact))).map((fact) => ({ ...fact, value: emptyFor(fact.value) }))
  return [...after, ...emptied].filter((fact) => String(was.get(slot(fact)) ?? emptyFor(fact.value)) !== String(fact.value))
}

function slot({ type, id, field }: Fact): string {
  return `${type} ${id} ${field}`
}

function emptyFor(value: Value): Value {
  return typeof value === 'number' ? 0 : typeof value === 'string' ? '' : []
}
