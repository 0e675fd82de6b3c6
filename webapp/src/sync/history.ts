// Reading what the shed tells: confirmed changes, stored together with the cursor that they move.
// Where the cursor does not hold, everything is read anew beside the old view, which stands until
// the new one is complete.

import type { Cursor, HistoryChunk, Reading, Write } from '../db/records'
import { canonical } from '../log/canonical'
import type { Scope } from '../log/change'
import type { Book } from './book'
import type { News, SeqOrder } from './messages'
import { fed, ordered } from './settling'

/** Small news is added to the last chunk until that holds so many changes. */
const chunkChanges = 200

/** What the phone says of how far it has read: a reading anew goes on where it stopped. */
export function cursorOf(reading: Reading): Cursor | null {
  return reading.staging ? reading.staging.cursor : reading.cursor
}

/** Begins to read from the start, up to the target, after a welcome that does not resume. */
export function planRereading(
  book: Book, epoch: string, scopes: readonly Scope[], target: number, wall: number,
): Write[] {
  const { generation, staging } = book.reading
  const next = Math.max(generation, staging?.generation ?? 0) + 1
  const begun: Reading = { ...book.reading, staging: { generation: next, cursor: { epoch, scopes, arrival: 0, last: '' } } }
  const writes: Write[] = staging ? [{ kind: 'forget', generation: staging.generation }] : []
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

/** Stores a frame of news, the orders it tells of the phone's own changes, and the cursor. */
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
  const writes: Write[] = [
    ...chunkWith(book, standing.staging?.generation ?? standing.generation, news),
    ...ownOrders(book, news),
    { kind: 'reading', reading: isLevel ? { ...next, levelAt: wall } : next },
  ]
  if (next.generation !== reading.generation) writes.push({ kind: 'forget', generation: reading.generation })
  if (news.orders.length > 0) writes.push({ kind: 'pen', pen: { ...pen, clock: fed(pen.clock, wall, news.orders) } })
  return writes
}

function chunkWith(book: Book, generation: number, news: News): Write[] {
  if (news.changes.length === 0) return []
  const texts = news.changes.map(canonical).join(',')
  const orders = news.orders.flatMap(({ l, c }) => [l, c])
  const tail = book.tails.get(generation)
  const known = tail ? tail.orders.length / 2 : 0
  if (!tail || known + news.changes.length > chunkChanges) {
    const chunk: HistoryChunk = { generation, number: (tail?.number ?? 0) + 1, changes: `[${texts}]`, orders }
    return [{ kind: 'chunk', chunk, known: 0 }]
  }
  const changes = `${tail.changes.slice(0, -1)},${texts}]`
  return [{ kind: 'chunk', chunk: { ...tail, changes, orders: [...tail.orders, ...orders] }, known }]
}

/** An acknowledgement may have been lost: the news then tells the order of the phone's own change. */
function ownOrders(book: Book, news: News): Write[] {
  const incarnations = [book.pen.incarnation, ...book.pen.formers]
  return incarnations.flatMap(incarnation => {
    const orders: SeqOrder[] = []
    news.changes.forEach((change, i) => {
      if (change.incarnation !== incarnation) return
      const operation = book.own.holding(incarnation, change.seq)?.operation
      if (!operation || operation.moved) return
      if (operation.texts[change.seq - operation.first] !== canonical(change)) return // a clone's
      orders.push({ seq: change.seq, order: news.orders[i]! })
    })
    return ordered(book, orders, [], incarnation)
  })
}
