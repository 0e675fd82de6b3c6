// What a set of changes comes to: the greatest change of every slot, so that neither the order of
// arrival nor repetition can matter. Mirrors internal/changelog/state.go.

import type { Change, Op, Stamp, Value } from './change'
import { identityOf } from './identity'
import { compareStamps, compareText } from './order'

export interface EntityKey {
  readonly type: string
  readonly id: string
}

/** The place where changes compete and the highest order stands. */
export interface SlotKey {
  /** 'member' for both add and remove. */
  readonly op: Op
  readonly field: string
  /** Tells apart what may stand side by side in one field: writer, correction or element. */
  readonly part: string
}

/** The change that stands in a slot. */
export interface Entry {
  readonly op: Op
  readonly value: Value
  readonly extra?: Readonly<Record<string, Value>>
  readonly order: Stamp
  readonly incarnation: string
  readonly seq: number
  readonly person: string
}

export interface Slot {
  readonly key: SlotKey
  readonly entry: Entry
}

/** Everything known of one entity. Its slots are keyed by slotName. */
export interface Entity {
  readonly key: EntityKey
  readonly slots: Map<string, Slot>
}

/** Orders entries by order, then identity; never 0 for two different changes. */
export function compareEntries(a: Entry, b: Entry): number {
  return compareStamps(a.order, b.order) || compareText(a.incarnation, b.incarnation) || a.seq - b.seq
}

/** NUL can stand in no name, so the joined names are unambiguous. */
export function entityName(type: string, id: string): string {
  return `${type}\0${id}`
}

export function slotName(k: SlotKey): string {
  return `${k.op}\0${k.field}\0${k.part}`
}

/** Says where a change competes. */
export function slotOf(c: Pick<Change, 'op' | 'field' | 'value' | 'incarnation' | 'seq'>): SlotKey {
  const { op, field } = c
  if (op === 'count') return { op, field, part: c.incarnation }
  if (op === 'correct') return { op, field, part: identityOf(c.incarnation, c.seq) }
  if (op === 'add' || op === 'remove') {
    return { op: 'member', field, part: typeof c.value === 'string' ? c.value : '' }
  }
  return { op, field, part: '' }
}

/** What a change puts into its slot under the given order. */
export function entryOf(c: Change, order: Stamp): Entry {
  const { op, value, extra, incarnation, seq, person } = c
  return { op, value, ...(extra && { extra }), order, incarnation, seq, person }
}

export function newEntity(key: EntityKey): Entity {
  return { key, slots: new Map() }
}

/** Puts an entry where it belongs, unless a greater one stands there. */
export function putEntry(e: Entity, slot: SlotKey, entry: Entry): void {
  const name = slotName(slot)
  const standing = e.slots.get(name)
  if (!standing || compareEntries(entry, standing.entry) > 0) e.slots.set(name, { key: slot, entry })
}

export class State {
  private readonly entities = new Map<string, Entity>()

  /** Takes one change in, with the order that decides it. */
  merge(c: Change, order: Stamp): void {
    this.put({ type: c.type, id: c.id }, slotOf(c), entryOf(c, order))
  }

  put(key: EntityKey, slot: SlotKey, entry: Entry): void {
    const name = entityName(key.type, key.id)
    let entity = this.entities.get(name)
    if (!entity) this.entities.set(name, (entity = newEntity({ type: key.type, id: key.id })))
    putEntry(entity, slot, entry)
  }

  entity(type: string, id: string): Entity | undefined {
    return this.entities.get(entityName(type, id))
  }

  named(name: string): Entity | undefined {
    return this.entities.get(name)
  }

  names(): IterableIterator<string> {
    return this.entities.keys()
  }

  [Symbol.iterator](): IterableIterator<Entity> {
    return this.entities.values()
  }
}
