// What the shed's word on the phone's own changes means: settled, and kept, held or refused.

import type { OwnOperation, RefusedSeq, Write } from '../db/records'
import type { Stamp } from '../log/change'
import { receive } from '../log/clock'
import type { Book } from './book'
import type { Ack, Outcome, Welcome } from './messages'
import { ownPlace } from './messages'
import type { Framed, OwnLog } from './own_log'
import { lastSeq } from './own_log'

/**
 * Tells whether the phone's past under an incarnation is the one that the shed knows: same chain value
 * at the highest seq that the shed has settled.
 */
export function pastIsProven(book: Book, incarnation: string, welcome: Pick<Welcome, 'seq' | 'hash'>): boolean {
  return book.own.hashAt(incarnation, welcome.seq) === welcome.hash
}

/** Up to where the phone knows what became of its changes, once welcomed; it knew that up to `told` before. */
export function knownTo(welcome: Pick<Welcome, 'seq' | 'told'>, told: number): number {
  return Math.min(welcome.seq, Math.max(welcome.told, told))
}

/**
 * After a welcome whose past is proven, which tells what became of the changes above `told`. A
 * restored shed may have settled less than before. `filled` says that it lacks nothing of what the
 * earlier incarnations wrote.
 */
export function planWelcome(book: Book, told: number, welcome: Welcome, filled: boolean, wall: number): Write[] {
  const { incarnation, clock } = book.pen
  const settled = knownTo(welcome, told)
  const pen = { ...book.pen, settled, clock: fed(clock, wall, ordersOf(welcome)), ...(filled && { filled: welcome.epoch }), own: ownPlace(welcome.arrival, welcome.life) }
  return [{ kind: 'pen', pen }, ...settledAs(book, incarnation, told, settled, welcome)]
}

/** After an acknowledgement on the phone's present incarnation. */
export function planAck(book: Book, ack: Ack, life: string, wall: number): Write[] {
  const { incarnation, settled, clock } = book.pen
  const own = ownPlace(ack.arrival, life)
  const pen = { ...book.pen, settled: Math.max(settled, ack.seq), clock: fed(clock, wall, ordersOf(ack)), own }
  return [{ kind: 'pen', pen }, ...settledAs(book, incarnation, settled, ack.seq, ack)]
}

/** How many operations that end above `from` and up to `to` the shed confirms: those of which it refuses nothing. */
export function confirmedBy({ refused }: Outcome, own: OwnLog, incarnation: string, from: number, to: number): number {
  const holding = new Set(refused.map(({ seq }) => own.holding(incarnation, seq)))
  return own.beyond(incarnation, from).filter((framed) => lastSeq(framed.operation) <= to && !holding.has(framed)).length
}

function ordersOf(outcome: Outcome): Stamp[] {
  return outcome.orders.map(({ order }) => order)
}

/** Feeds every order that the phone is told into its clock. */
export function fed(clock: Stamp, wall: number, orders: readonly Stamp[]): Stamp {
  return orders.reduce((last, order) => receive(last, wall, order), clock)
}

/** The operations with seqs above `from` up to `to`, with what became of those. */
export function settledAs(book: Book, incarnation: string, from: number, to: number, outcome: Outcome): Write[] {
  const told: Told = {
    from,
    to,
    orders: new Map(outcome.orders.map(({ seq, order }) => [seq, order])),
    codes: new Map(outcome.refused.map(({ seq, code }) => [seq, code])),
    held: new Set(outcome.held),
  }
  return book.own.beyond(incarnation, from)
    .filter(({ operation }) => operation.first <= to)
    .map(framed => ({ kind: 'own', operation: withOutcome(framed, told) }))
}

/** As settledAs, but for the operations of which the shed says nothing new. */
export function judgedAnew(book: Book, incarnation: string, from: number, to: number, outcome: Outcome): Write[] {
  return settledAs(book, incarnation, from, to, outcome).filter(write =>
    write.kind !== 'own' || fatesOf(write.operation) !== fatesOf(book.own.holding(incarnation, write.operation.first)!.operation))
}

function fatesOf({ orders, refused, held = [] }: OwnOperation): string {
  return JSON.stringify([orders.map(order => order && [order.l, order.c]), refused.map(({ seq, code }) => [seq, code]), held])
}

interface Told {
  readonly from: number
  readonly to: number
  readonly orders: ReadonlyMap<number, Stamp>
  readonly codes: ReadonlyMap<number, string>
  readonly held: ReadonlySet<number>
}

/** The last word counts: a shed may keep now what one before its restore refused, or the reverse. */
function withOutcome({ operation, changes }: Framed, told: Told): OwnOperation {
  const isNew = (seq: number) => seq > told.from && seq <= told.to
  const orders = changes.map(({ seq, stamp }, i) => {
    if (!isNew(seq)) return operation.orders[i] ?? null
    return told.codes.has(seq) || told.held.has(seq) ? null : (told.orders.get(seq) ?? stamp)
  })
  const refused: RefusedSeq[] = operation.refused.filter(({ seq }) => !isNew(seq))
  const held = (operation.held ?? []).filter(seq => !isNew(seq))
  for (const { seq } of changes) {
    const code = isNew(seq) ? told.codes.get(seq) : undefined
    if (code !== undefined) refused.push({ seq, code })
    else if (isNew(seq) && told.held.has(seq)) held.push(seq)
  }
  return { ...operation, orders, refused, held }
}

/**
 * The highest seq up to `settled` of which, and of all before it, the phone knows what became of it.
 */
export function toldUpTo(book: Book, incarnation: string, settled: number): number {
  for (const { operation } of book.own.beyond(incarnation, 0)) {
    if (operation.first > settled) break
    const notKept = new Set([...operation.refused.map(({ seq }) => seq), ...(operation.held ?? [])])
    const untold = operation.orders.findIndex((order, i) => order === null && !notKept.has(operation.first + i))
    if (untold >= 0) return Math.min(settled, operation.first + untold - 1)
  }
  return settled
}

/** Framed changes not known to be settled. */
export function unsettled(book: Book): readonly Framed[] {
  const { incarnation, settled } = book.pen
  return book.own.beyond(incarnation, settled)
}
