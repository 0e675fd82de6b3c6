// Which part of which payment counts for which bill. Mirrors internal/money/paid.go.
//
// A payment that names a bill, or a note on it, is that bill's. One of an order is spread over the order's bills that stand, by
// date and number: what came on the first up to what is open of the order's share of it, then on the next; what went back off
// the last up to what the order's payments gave it, then off the one before. What is left stays with the last.

import { partsOf } from './discount'
import { leftOf } from './invoice_total'
import type { Money, Payment } from './money_nouns'
import type { Farm } from './nouns'
import { onceOrderOf } from './once_ordered'
import type { Cents, Invoice, InvoiceID, OrderID, Sales } from './sale_nouns'

export type Books = Pick<Farm, 'sales' | 'money'>

/** Below 0 is money that went back. */
export interface PaidPart {
  readonly payment: Payment
  readonly cents: Cents
}

export interface PaidParts {
  /** By bill, the earliest payment first. */
  readonly of: ReadonlyMap<InvoiceID, readonly PaidPart[]>
  readonly notes: ReadonlyMap<InvoiceID, readonly Invoice[]>
}

/**
 * A bill that stands, what it comes to after its notes, and an order's share of that: a payment of one order must not fill what
 * another's is still to come for.
 */
interface BillShare {
  readonly id: InvoiceID
  readonly owed: Cents
  readonly share: number
}

let last: { readonly money: Money; readonly sales: Sales; readonly parts: PaidParts } | undefined

/** Worked out once until what is sold or paid changes: a look through all invoices for each of thousands would be seen. */
export function paidParts({ sales, money }: Books): PaidParts {
  if (last?.money !== money || last.sales !== sales) last = { money, sales, parts: readParts(sales, money) }
  return last.parts
}

/** What a bill comes to after its notes, tax included; 0 of one that was called void. */
export function owedOf(invoice: Invoice, notes: readonly Invoice[]): Cents {
  return invoice.void === '' ? leftOf(invoice, notes.filter((note) => note.void === '')) : (0 as Cents)
}

/** The earliest first. */
export function byDay(a: Payment, b: Payment): number {
  return a.date < b.date ? -1 : a.date > b.date ? 1 : a.id < b.id ? -1 : 1
}

function readParts(sales: Sales, { payments }: Money): PaidParts {
  const all = [...payments.values()].sort(byDay)
  const ofOrders = all.filter(({ invoice, order }) => invoice === '' && order !== '')
  const notes = notesByBill(sales)
  const spreading = new Spreading(notes, billsOfOrders(sales, ofOrders, notes))
  for (const payment of all) {
    const invoice = payment.invoice === '' ? undefined : sales.invoices.get(payment.invoice)
    if (invoice) spreading.give(payment, invoice.credits || invoice.id, payment.cents)
  }
  for (const payment of ofOrders) spreading.spread(payment)
  for (const parts of spreading.of.values()) parts.sort((a, b) => byDay(a.payment, b.payment))
  return spreading
}

class Spreading implements PaidParts {
  readonly of = new Map<InvoiceID, PaidPart[]>()
  private readonly paid = new Map<InvoiceID, number>()
  /** By payments of the order, under order and bill. */
  private readonly given = new Map<string, number>()

  constructor(readonly notes: ReadonlyMap<InvoiceID, readonly Invoice[]>, private readonly bills: ReadonlyMap<OrderID, readonly BillShare[]>) {}

  give(payment: Payment, to: InvoiceID, cents: number): void {
    if (cents === 0) return
    const parts = this.of.get(to) ?? []
    this.of.set(to, parts)
    parts.push({ payment, cents: cents as Cents })
    this.paid.set(to, (this.paid.get(to) ?? 0) + cents)
    const key = givenKey(payment.order, to)
    this.given.set(key, (this.given.get(key) ?? 0) + cents)
  }

  spread(payment: Payment): void {
    const bills = this.bills.get(payment.order as OrderID) ?? []
    const parts = new Map<InvoiceID, number>()
    let left: number = payment.cents
    const take = (id: InvoiceID, part: number) => {
      left -= part
      parts.set(id, (parts.get(id) ?? 0) + part)
    }
    for (const { id, owed, share } of bills) take(id, Math.max(0, Math.min(left, owed - (this.paid.get(id) ?? 0), share - this.givenBy(payment, id))))
    for (const { id } of [...bills].reverse()) take(id, Math.min(0, Math.max(left, -this.givenBy(payment, id))))
    const end = bills.at(-1)
    if (end) take(end.id, left)
    for (const [id, part] of parts) this.give(payment, id, part)
  }

  private givenBy({ order }: Payment, bill: InvoiceID): number {
    return this.given.get(givenKey(order, bill)) ?? 0
  }
}

function givenKey(order: OrderID | '', bill: InvoiceID): string {
  return `${order} ${bill}`
}

/** Of each order that was paid for by itself, the bills that stand and have a line of it, by date and number. */
function billsOfOrders(sales: Sales, payments: readonly Payment[], notes: ReadonlyMap<InvoiceID, readonly Invoice[]>): Map<OrderID, BillShare[]> {
  const found = new Map<OrderID, BillShare[]>(payments.map(({ order }) => [order as OrderID, []]))
  if (found.size === 0) return found
  const standing = [...sales.invoices.values()].filter((invoice) => invoice.credits === '' && invoice.void === '')
  for (const invoice of standing.sort(byDateAndNumber)) {
    const on = (notes.get(invoice.id) ?? []).filter((note) => note.void === '')
    const owed = owedOf(invoice, on)
    for (const [order, share] of sharesOn(sales, [invoice, ...on], owed)) found.get(order as OrderID)?.push({ id: invoice.id, owed, share })
  }
  return found
}

/**
 * What is owed of an invoice, split among the orders of which it has a line by what is left of their lines after notes: each
 * bears its part of fees, tax and discounts. Lines of no known order are under ''.
 */
function sharesOn(sales: Sales, papers: readonly Invoice[], owed: Cents): [OrderID | '', number][] {
  const costs = new Map<OrderID | '', number>()
  for (const { line, cents } of papers.flatMap(({ lines }) => lines)) {
    if (line === '') continue
    const order = onceOrderOf(sales, line) ?? ''
    costs.set(order, (costs.get(order) ?? 0) + cents)
  }
  const shares = partsOf(Math.max(0, owed), [...costs.values()].map((cost) => Math.max(0, cost)))
  return [...costs.keys()].map((order, i) => [order, shares[i]!])
}

function byDateAndNumber(a: Invoice, b: Invoice): number {
  const key = ({ date, number, id }: Invoice) => `${date} ${number} ${id}`
  return key(a) < key(b) ? -1 : 1
}

function notesByBill({ invoices }: Sales): Map<InvoiceID, Invoice[]> {
  const found = new Map<InvoiceID, Invoice[]>()
  for (const note of invoices.values()) {
    if (note.credits === '') continue
    const of = found.get(note.credits)
    if (of) of.push(note)
    else found.set(note.credits, [note])
  }
  return found
}
