// What the shed's word on the phone's own changes means: settled, ordered, refused.

import type { OwnOperation, RefusedSeq, Write } from '../db/records'
import type { Stamp } from '../log/change'
import { receive } from '../log/clock'
import type { Book } from './book'
import type { Ack, Refusal, SeqOrder, Welcome } from './messages'
import type { Framed } from './own_log'
import { lastSeq } from './own_log'

/**
 * Tells whether the phone's past is the one that the shed knows: same chain value at the highest
 * seq that the shed has settled.
 */
export function pastIsProven(book: Book, welcome: Pick<Welcome, 'seq' | 'hash'>): boolean {
  return book.own.hashAt(book.pen.incarnation, welcome.seq) === welcome.hash
}

/** After a welcome whose past is proven. A restored shed may have settled less than before. */
export function planWelcome(book: Book, welcome: Pick<Welcome, 'seq' | 'refused'>): Write[] {
  const pen = { ...book.pen, settled: welcome.seq }
  return [...ordered(book, [], welcome.refused, pen.incarnation), { kind: 'pen', pen }]
}

/** After an acknowledgement. */
export function planAck(book: Book, ack: Ack, wall: number): Write[] {
  const { incarnation, settled, clock } = book.pen
  const pen = {
    ...book.pen,
    settled: Math.max(settled, ack.seq),
    clock: fed(clock, wall, ack.orders.map(o => o.order)),
  }
  return [...ordered(book, ack.orders, ack.refused, incarnation), { kind: 'pen', pen }]
}

/** Feeds every order that the phone is told into its clock. */
export function fed(clock: Stamp, wall: number, orders: readonly Stamp[]): Stamp {
  return orders.reduce((last, order) => receive(last, wall, order), clock)
}

/** The operations in which an order or a refusal is news. */
export function ordered(
  book: Book, orders: readonly SeqOrder[], refused: readonly Refusal[], incarnation: string,
): Write[] {
  const orderOf = new Map(orders.map(o => [o.seq, o.order]))
  const codeOf = new Map(refused.map(r => [r.seq, r.code]))
  const held = new Set<Framed>()
  for (const seq of [...orderOf.keys(), ...codeOf.keys()]) {
    const framed = book.own.holding(incarnation, seq)
    if (framed) held.add(framed)
  }
  return [...held].flatMap(({ operation }) => {
    const told = withWord(operation, orderOf, codeOf)
    return told ? [{ kind: 'own' as const, operation: told }] : []
  })
}

function withWord(
  operation: OwnOperation, orderOf: ReadonlyMap<number, Stamp>, codeOf: ReadonlyMap<number, string>,
): OwnOperation | undefined {
  const seqs = operation.texts.map((_, i) => operation.first + i)
  const orders = seqs.map((seq, i) => orderOf.get(seq) ?? operation.orders[i] ?? null)
  const refused: RefusedSeq[] = seqs.flatMap(seq => {
    // A shed that keeps now what one before its restore refused has the last word.
    if (orderOf.has(seq)) return []
    const code = codeOf.get(seq) ?? operation.refused.find(r => r.seq === seq)?.code
    return code === undefined ? [] : [{ seq, code }]
  })
  const same = orders.every((order, i) => sameStamp(order, operation.orders[i] ?? null)) && sameRefused(refused, operation.refused)
  return same ? undefined : { ...operation, orders, refused }
}

function sameStamp(a: Stamp | null, b: Stamp | null): boolean {
  return a?.l === b?.l && a?.c === b?.c
}

function sameRefused(a: readonly RefusedSeq[], b: readonly RefusedSeq[]): boolean {
  return a.length === b.length && a.every((r, i) => r.seq === b[i]!.seq && r.code === b[i]!.code)
}

/** Framed changes not known to be settled. */
export function unsettled(book: Book): readonly Framed[] {
  const { incarnation, settled } = book.pen
  return book.own.beyond(incarnation, settled).filter(({ operation }) => lastSeq(operation) > settled)
}
