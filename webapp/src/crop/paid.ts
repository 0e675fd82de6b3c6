// What was paid of invoices, and what is still owed.

import type { Money, Payment } from './money_nouns'
import type { Day } from './nouns'
import { type Books, byDay, owedOf, type PaidPart, paidParts } from './payment_parts'
import type { Cents, Invoice, InvoiceID, OrderID } from './sale_nouns'

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
export function paidOf(farm: Books, invoice: Invoice, today: Day): Paid {
  const owed = owedOf(invoice, paidParts(farm).notes.get(invoice.id) ?? [])
  const come = paymentsOf(farm, invoice).filter(({ payment }) => payment.date <= today) // one of a later day is to come
  const paid = come.reduce((sum, { cents }) => sum + cents, 0) as Cents
  const left = (owed - paid) as Cents
  return { state: stateOf(invoice, paid, left), owed, paid, left, overdue: left > 0 && invoice.payBy !== '' && invoice.payBy < today }
}

function stateOf(invoice: Invoice, paid: Cents, left: Cents): PaidState {
  if (left < 0) return 'over'
  if (invoice.void !== '') return 'void'
  if (left === 0) return 'paid'
  return paid > 0 ? 'part' : 'unpaid'
}

/** The payments of an invoice, and what of its orders' payments counts for it, the earliest first. */
export function paymentsOf(farm: Books, { id }: Pick<Invoice, 'id'>): readonly PaidPart[] {
  return paidParts(farm).of.get(id) ?? []
}

/** The payments that were told of an invoice or an order itself, the earliest first. */
export function paymentsFor({ payments, paymentsOf: of }: Pick<Money, 'payments' | 'paymentsOf'>, id: InvoiceID | OrderID): Payment[] {
  return [...of.get(id) ?? []].flatMap((one) => payments.get(one) ?? []).sort(byDay)
}

/** A bill of which something is open: of which less, or more, was paid than is owed. */
export interface OpenBill extends Paid {
  readonly invoice: Invoice
}

/** The bills of which something is open, those that were due the earliest first. */
export function openBills(farm: Books, today: Day): OpenBill[] {
  const bills = [...farm.sales.invoices.values()].filter(({ credits }) => credits === '')
  const open = bills.map((invoice) => ({ invoice, ...paidOf(farm, invoice, today) })).filter(({ left }) => left !== 0)
  const due = ({ invoice }: OpenBill) => `${invoice.payBy || invoice.date} ${invoice.number}`
  return open.sort((a, b) => (due(a) < due(b) ? -1 : 1))
}
