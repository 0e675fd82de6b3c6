// How an entity is read: fields, sets, withdrawal. Mirrors internal/changelog/read.go.

import { compareText } from './order'
import type { Entity, Entry } from './state'
import { slotName } from './state'
import type { Op, Value } from './change'

/** The field that withdraws an entity: 1 withdraws, 0 restores. */
export const fieldWithdrawn = 'withdrawn'

/** A field's text, or '' when it was never set to one. */
export function text(e: Entity, field: string): string {
  const value = fieldValue(e, field)
  return typeof value === 'string' ? value : ''
}

/** A field's number, or 0 when it was never set to one. */
export function int(e: Entity, field: string): number {
  const value = fieldValue(e, field)
  return typeof value === 'number' ? value : 0
}

/** A field's list of ids, or none when it was never set to one. */
export function list(e: Entity, field: string): readonly string[] {
  const value = fieldValue(e, field)
  return typeof value === 'object' ? value : []
}

/** When a field was last set, in ms since 1970; 0 where it never was. */
export function setAt(e: Entity, field: string): number {
  return fieldEntry(e, field)?.order.l ?? 0
}

function fieldValue(e: Entity, field: string): Value | undefined {
  return fieldEntry(e, field)?.value
}

function fieldEntry(e: Entity, field: string): Entry | undefined {
  return e.slots.get(slotName({ op: 'set', field, part: '' }))?.entry
}

/** The names of the fields that were ever set, sorted. */
export function fields(e: Entity): string[] {
  return namesOf(e, op => op === 'set')
}

/** The names of the count cells that were ever written or corrected, sorted. */
export function cells(e: Entity): string[] {
  return namesOf(e, op => op === 'count' || op === 'correct')
}

function namesOf(e: Entity, wanted: (op: Op) => boolean): string[] {
  const names = new Set<string>()
  for (const { key } of e.slots.values()) if (wanted(key.op)) names.add(key.field)
  return [...names].sort(compareText)
}

/** An element of a set that was ever added, with the moment of its last change in ms since 1970. */
export interface ChangedMember {
  readonly name: string
  readonly on: boolean
  readonly at: number
  /** Who changed it last. */
  readonly by: string
}

/** The elements that a set has and those that were taken out of it, the last changed first. */
export function changedMembers(e: Entity, field: string): ChangedMember[] {
  const found: ChangedMember[] = []
  for (const { key, entry } of e.slots.values()) {
    if (key.op === 'member' && key.field === field) found.push({ name: key.part, on: entry.op === 'add', at: entry.order.l, by: entry.person })
  }
  return found.sort((a, b) => b.at - a.at || compareText(a.name, b.name))
}

/** The elements of a set, sorted. */
export function members(e: Entity, field: string): string[] {
  const found: string[] = []
  for (const { key, entry } of e.slots.values()) {
    if (key.op === 'member' && key.field === field && entry.op === 'add') found.push(key.part)
  }
  return found.sort(compareText)
}

/** Tells whether the entity was withdrawn and not restored since. */
export function withdrawn(e: Entity): boolean {
  return int(e, fieldWithdrawn) === 1
}
