// The whole state in one canonical form: two replicas are equal if their dumps are. Mirrors
// internal/changelog/dump.go.

import { canonicalValue } from './canonical'
import { compareText } from './order'
import type { Entity, Slot, State } from './state'

/** A line for each slot, sorted by bytes. */
export function dump(state: Iterable<Entity> | State): string {
  const lines: string[] = []
  for (const entity of state) {
    for (const slot of entity.slots.values()) lines.push(line(entity, slot))
  }
  return lines.sort(compareText).join('\n')
}

function line({ key }: Entity, { key: slot, entry }: Slot): string {
  const texts = [key.type, key.id, slot.op, slot.field, slot.part, entry.op].map(s => JSON.stringify(s))
  const { order, incarnation, seq } = entry
  return `[${texts.join(',')},${canonicalValue(entry.value)},${order.l},${order.c},${JSON.stringify(incarnation)},${seq}]`
}
