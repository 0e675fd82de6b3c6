// Reading what the shed tells: confirmed changes, stored together with the cursor that they move.
// Where the cursor does not hold, everything is read anew beside the old view, which stands until
// the new one is complete.

import type { Cursor, HistoryChunk, Reading, Write } from '../db/records'
import type { Batch } from '../log/batch'
import { maxElements, standsAlone } from '../log/batch'
import { packAlone } from '../log/batch_pack'
import { Unpacker } from '../log/batch_unpack'
import type { Scope } from '../log/change'
import { maxFrameBytes } from '../log/check'
import type { Book } from './book'
import type { News, ToldBatch } from './messages'
import { elementsIn } from './pushing'
import { fed } from './settling'

/** Small news is added to the last chunk until that holds so many changes. */
const chunkChanges = 200

/** What the phone says of how far it has read: a reading anew goes on where it stopped. */
export function cursorOf(reading: Reading): Cursor | null {
  return reading.staging ? reading.staging.cursor : reading.cursor
}

/** Everything is to be read from the start; the old view stands. */
export function planForgetCursor({ reading }: Book): Write[] {
  const anew: Write = { kind: 'reading', reading: { ...reading, cursor: null, staging: null } }
  return reading.staging ? [{ kind: 'forget', generation: reading.staging.generation }, anew] : [anew]
}

/**
 * Begins to read from the start, up to the target, after a welcome that does not resume. Whatever lies on
 * disk of other readings anew is forgotten, also where it could not be read.
 */
export function planRereading(
  book: Book, epoch: string, scopes: readonly Scope[], target: number, wall: number,
): Write[] {
  const { generation, staging } = book.reading
  const others = [...book.tails.keys()].filter(one => one !== generation)
  const next = Math.max(generation, staging?.generation ?? 0, ...others) + 1
  const begun: Reading = { ...book.reading, staging: { generation: next, cursor: { epoch, scopes, arrival: 0, last: '' } } }
  const writes: Write[] = others.map(one => ({ kind: 'forget', generation: one }))
  writes.push({ kind: 'reading', reading: begun })
  return target > 0 ? writes : [...writes, ...level(begun, target, wall)]
}

/** After a welcome that resumes: the phone may be level already, a reading anew complete. */
export function planLevel(book: Book, target: number, wall: number): Write[] {
  return (cursorOf(book.reading)?.arrival ?? 0) < target ? [] : level(book.reading, target, wall)
}

function level(before: Reading, target: number, wall: number): Write[] {
  const reading = { ...completed(before, target), levelAt: wall }
  const writes: Write[] = [{ kind: 'reading', reading }]
  if (reading.generation !== before.generation) writes.push({ kind: 'forget', generation: before.generation })
  return writes
}

/** A reading anew is complete once it has reached the arrival number that the welcome named. */
function completed(reading: Reading, target: number): Reading {
  const { staging } = reading
  if (!staging || staging.cursor.arrival < target) return reading
  return { ...reading, generation: staging.generation, cursor: staging.cursor, staging: null }
}

/** Stores a frame of news and the cursor. */
export function planNews(book: Book, news: News, target: number, wall: number): Write[] {
  const { reading, pen } = book
  const cursor = cursorOf(reading)
  if (!cursor) throw new Error('reading news: no cursor was begun')
  const moved = { ...cursor, arrival: news.arrival, last: news.last }
  const standing: Reading = reading.staging
    ? { ...reading, staging: { ...reading.staging, cursor: moved } }
    : { ...reading, cursor: moved }
  const next = completed(standing, target)
  const isLevel = !next.staging && news.arrival >= Math.max(target, news.newest)
  // One without changes may still have names for those that follow.
  const told = news.batches.filter(({ packed, batch }) => batch.changes.length > 0 || !standsAlone(packed))
  const writes: Write[] = [
    ...chunksWith(book, standing.staging?.generation ?? standing.generation, told),
    { kind: 'reading', reading: isLevel ? { ...next, levelAt: wall } : next },
  ]
  if (next.generation !== reading.generation) writes.push({ kind: 'forget', generation: reading.generation })
  const orders = told.flatMap(({ batch }) => (batch.orders ?? []).filter(order => order !== null))
  if (orders.length > 0) writes.push({ kind: 'pen', pen: { ...pen, clock: fed(pen.clock, wall, orders) } })
  return writes
}

/** Batches are stored as they came, also what was linked to those before: they are read in order. */
function chunksWith(book: Book, generation: number, told: readonly ToldBatch[]): Write[] {
  const writes: Write[] = []
  const added = told.reduce((n, { batch }) => n + batch.changes.length, 0)
  if (told.length === 0) return writes
  const fresh = told.map(({ batch }) => batch)
  const batches = told.map(({ packed }) => packed)
  const tail = book.tails.get(generation)
  if (tail && tail.count + added <= chunkChanges) {
    return [{ kind: 'chunk', chunk: { ...tail, batches: [...tail.batches, ...batches], count: tail.count + added }, fresh }]
  }
  if (tail && tail.batches.length > 1 && tail.batches.every(standsAlone)) {
    writes.push({ kind: 'chunk', chunk: { ...tail, batches: packedTogether(tail.batches) }, fresh: [] })
  }
  const chunk: HistoryChunk = { generation, number: (tail?.number ?? 0) + 1, batches, count: added }
  return [...writes, { kind: 'chunk', chunk, fresh }]
}

/** A full chunk of small batches takes far less room as one, where one may hold so much. */
function packedTogether(batches: readonly Uint8Array[]): readonly Uint8Array[] {
  const read: Batch[] = batches.map(batch => new Unpacker().read(batch))
  const changes = read.flatMap(batch => batch.changes)
  const bytes = batches.reduce((n, batch) => n + batch.length, 0)
  if (elementsIn(changes) > maxElements || bytes > maxFrameBytes) return batches
  return [packAlone({
    changes,
    orders: read.flatMap(({ orders }) => orders ?? []),
    origins: new Map(read.flatMap(({ origins }) => [...(origins ?? [])])),
  })]
}
