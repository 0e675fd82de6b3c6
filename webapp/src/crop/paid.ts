// What was paid of invoices, and what is still owed.

import { notesOn } from './billed'
import { leftOf } from './invoice_total'
import type { Money, Payment } from './money_nouns'
import type { Day, Farm } from './nouns'
import type { Cents, Invoice, InvoiceID, OrderID, Sales } from './sale_nouns'

/** What an invoice is worth by now. 'over' is paid beyond what it comes to, as where a note came after the money. */
export type PaidState = 'void' | 'unpaid' | 'part' | 'paid' | 'over'

export interface Paid {
  readonly state: PaidState
  /** Tax included and its notes taken off; 0 of one that was called void. */
  readonly owed: Cents
  readonly paid: Cents
  /** Owed and not paid; below 0 where more was paid. */
  readonly left: Cents
  /** Something is left after the day by which it was to be paid. */
  readonly overdue: boolean
}

/** Of a bill; a credit note is part of its bill. */
export function paidOf({ sales, money }: Pick<Farm, 'sales' | 'money'>, invoice: Invoice, today: Day): Paid {
  return paidWith({ sales, money }, invoice, notesOn(sales, invoice.id), today)
}

function paidWith(farm: Pick<Farm, 'sales' | 'money'>, invoice: Invoice, notes: readonly Invoice[], today: Day): Paid {
  const owed = invoice.void === '' ? leftOf(invoice, notes.filter((note) => note.void === '')) : (0 as Cents)
  const paid = paymentsOf(farm, invoice).reduce((sum, { cents }) => sum + cents, 0) as Cents
  const left = (owed - paid) as Cents
  return { state: stateOf(invoice, paid, left), owed, paid, left, overdue: left > 0 && invoice.payBy !== '' && invoice.payBy < today }
}

function stateOf(invoice: Invoice, paid: Cents, left: Cents): PaidState {
  if (left < 0) return 'over'
  if (invoice.void !== '') return 'void'
  if (left === 0) return 'paid'
  return paid > 0 ? 'part' : 'unpaid'
}

/** The payments of an invoice, and of orders that stand on it before any other, the earliest first. */
export function paymentsOf({ sales, money }: Pick<Farm, 'sales' | 'money'>, invoice: Invoice): Payment[] {
  const orders = new Set(invoice.lines.flatMap(({ line }) => (line === '' ? [] : sales.lines.get(line)?.order || [])))
  const its = [...orders].filter((order) => money.paymentsOf.has(order) && firstBill(sales, order) === invoice.id)
  return [invoice.id, ...its].flatMap((of) => paymentsFor(money, of)).sort(byDay)
}

/** The payments that were told of an invoice or an order itself, the earliest first. */
export function paymentsFor({ payments, paymentsOf: of }: Pick<Money, 'payments' | 'paymentsOf'>, id: InvoiceID | OrderID): Payment[] {
  return [...of.get(id) ?? []].flatMap((one) => payments.get(one) ?? []).sort(byDay)
}

function byDay(a: Payment, b: Payment): number {
  return a.date < b.date ? -1 : a.date > b.date ? 1 : a.id < b.id ? -1 : 1
}

/** The bill with the least number that stands and has a line of an order. */
function firstBill({ linesOf, billing, invoices }: Sales, order: OrderID): InvoiceID | undefined {
  const bills = [...linesOf.get(order) ?? []].flatMap((line) => [...billing.lines.get(line)?.on.keys() ?? []]).flatMap((id) => invoices.get(id) ?? [])
  return bills.sort((a, b) => (a.number < b.number ? -1 : 1))[0]?.id
}

/** A bill of which something is open: of which less, or more, was paid than is owed. */
export interface OpenBill extends Paid {
  readonly invoice: Invoice
}

/** The bills of which something is open, those that were due the earliest first. */
export function openBills(farm: Pick<Farm, 'sales' | 'money'>, today: Day): OpenBill[] {
  const notes = notesByBill(farm.sales)
  const bills = [...farm.sales.invoices.values()].filter(({ credits }) => credits === '')
  const open = bills.map((invoice) => ({ invoice, ...paidWith(farm, invoice, notes.get(invoice.id) ?? [], today) })).filter(({ left }) => left !== 0)
  const due = ({ invoice }: OpenBill) => `${invoice.payBy || invoice.date} ${invoice.number}`
  return open.sort((a, b) => (due(a) < due(b) ? -1 : 1))
}

/** Gathered once: a look through all invoices for each of thousands would be seen. */
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
