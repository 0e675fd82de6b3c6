// Packing changes into a batch (PROTOCOL.md, section 4). Mirrors syncproto/pack.go to the byte.

import { kindList, kindNumber, kindText, modeAlone, modeAnew, modeLinked } from './batch'
import type { Batch } from './batch'
import { PackedNames } from './batch_names'
import { ByteWriter } from './bytes'
import type { Change, Value } from './change'
import { writeColumn } from './column'
import { compareText } from './order'
import type { Origin } from './origin'
import { originID, originParts } from './origin'

/** Packs the batches of one direction of a conversation: a name travels once. */
export class Packer {
  private names = new PackedNames()
  private begun = false

  /** The next batch of the conversation. Its changes are within the limits that check knows. */
  pack(batch: Batch): Uint8Array<ArrayBuffer> {
    let mode = this.begun ? modeLinked : modeAnew
    this.begun = true
    const ids = derivedOf(batch)
    collect(this.names, batch.changes, ids)
    if (this.names.isFull) {
      this.names = new PackedNames()
      collect(this.names, batch.changes, ids)
      mode = modeAnew
    }
    return write(mode, this.names, batch, ids)
  }
}

/** Packs a batch that can be read without any other. */
export function packAlone(batch: Batch): Uint8Array<ArrayBuffer> {
  const names = new PackedNames()
  const ids = derivedOf(batch)
  collect(names, batch.changes, ids)
  return write(modeAlone, names, batch, ids)
}

/** Which ids are derived, and for each change which of them its id is, or -1. */
interface DerivedIDs {
  readonly origins: readonly Origin[]
  readonly which: readonly number[]
}

/** An id is derived again wherever the change before has another, which keeps its column short. */
function derivedOf({ changes, origins }: Batch): DerivedIDs {
  const derived: Origin[] = []
  const which: number[] = []
  changes.forEach(({ id }, i) => {
    if (i > 0 && id === changes[i - 1]!.id) return which.push(which[i - 1]!)
    const origin = origins?.get(id)
    if (!origin || originID(origin) !== id) return which.push(-1)
    return which.push(derived.push(origin) - 1)
  })
  return { origins: derived, which }
}

const nameParts = ['incarnation', 'person', 'scope', 'op', 'type', 'field'] as const

/**
 * Finds the names that the batch needs, a column after the other: what a column holds then lies close
 * together, and its numbers are short.
 */
function collect(names: PackedNames, changes: readonly Change[], ids: DerivedIDs): void {
  for (const part of nameParts) for (const change of changes) names.collect(change[part])
  collectValues(names, changes.map(c => c.value))
  const extras = extrasOf(changes)
  for (const [name] of extras) names.collect(name)
  collectValues(names, extras.map(([, value]) => value))
  changes.forEach(({ id }, i) => {
    if (ids.which[i] === -1) names.collect(id)
  })
  for (const part of originParts) for (const origin of ids.origins) names.collect(origin[part])
}

function collectValues(names: PackedNames, values: readonly Value[]): void {
  for (const value of values) if (typeof value === 'string') names.collect(value)
  for (const value of values) if (typeof value === 'object') for (const element of value) names.collect(element)
}

/** All extra parts, in the order of the changes and of their names as bytes. */
function extrasOf(changes: readonly Change[]): (readonly [string, Value])[] {
  return changes.flatMap(({ extra }) => (extra ? Object.entries(extra).sort(([a], [b]) => compareText(a, b)) : []))
}

function write(mode: number, names: PackedNames, batch: Batch, ids: DerivedIDs): Uint8Array<ArrayBuffer> {
  const w = new ByteWriter()
  names.number()
  w.byte(mode)
  w.uvarint(batch.changes.length)
  writeNames(w, names, ids)
  writeParts(w, names, batch.changes, ids)
  writeExtras(w, names, batch.changes)
  writeOrders(w, batch)
  names.settle()
  return w.finish()
}

function writeNames(w: ByteWriter, names: PackedNames, { origins }: DerivedIDs): void {
  w.uvarint(names.texts.length)
  for (const text of names.texts) {
    w.uvarint(text.length)
    w.raw(text)
  }
  w.uvarint(names.uuids.length)
  for (const uuid of names.uuids) w.raw(uuid)
  w.uvarint(origins.length)
  for (const part of originParts) writeColumn(w, origins.map(origin => names.numberOf(origin[part])))
}

function writeParts(w: ByteWriter, names: PackedNames, changes: readonly Change[], ids: DerivedIDs): void {
  const named = (part: (typeof nameParts)[number]) => writeColumn(w, changes.map(c => names.numberOf(c[part])))
  named('incarnation')
  writeColumn(w, changes.map(c => c.seq))
  writeColumn(w, changes.map(c => c.stamp.l))
  writeColumn(w, changes.map(c => c.stamp.c))
  writeColumn(w, changes.map(c => c.rest))
  for (const part of ['person', 'scope', 'op', 'type'] as const) named(part)
  writeColumn(w, changes.map((c, i) => (ids.which[i] === -1 ? names.numberOf(c.id) : names.size + ids.which[i]!)))
  named('field')
  const values = changes.map(c => c.value)
  writeColumn(w, values.map(kindOf))
  writeColumn(w, values.map(value => numberFor(names, value)))
  writeColumn(w, changes.map(c => Object.keys(c.extra ?? {}).length))
  writeElements(w, names, values)
}

function writeExtras(w: ByteWriter, names: PackedNames, changes: readonly Change[]): void {
  const extras = extrasOf(changes)
  const values = extras.map(([, value]) => value)
  writeColumn(w, extras.map(([name]) => names.numberOf(name)))
  writeColumn(w, values.map(kindOf))
  writeColumn(w, values.map(value => numberFor(names, value)))
  writeElements(w, names, values)
}

function kindOf(value: Value): number {
  if (typeof value === 'number') return kindNumber
  return typeof value === 'string' ? kindText : kindList
}

/** What stands for a value: itself, its text's name, its list's length. */
function numberFor(names: PackedNames, value: Value): number {
  if (typeof value === 'number') return value
  return typeof value === 'string' ? names.numberOf(value) : value.length
}

function writeElements(w: ByteWriter, names: PackedNames, values: readonly Value[]): void {
  writeColumn(w, values.flatMap(value => (typeof value === 'object' ? value.map(element => names.numberOf(element)) : [])))
}

function writeOrders(w: ByteWriter, { changes, orders }: Batch): void {
  const told: number[] = []
  const l: number[] = []
  const c: number[] = []
  changes.forEach(({ stamp }, i) => {
    const order = orders?.[i]
    told.push(order ? 1 : 0)
    if (!order) return
    l.push(order.l - stamp.l)
    c.push(order.c - stamp.c)
  })
  for (const column of [told, l, c]) writeColumn(w, column)
}
