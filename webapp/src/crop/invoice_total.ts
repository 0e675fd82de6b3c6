// What an invoice comes to. Mirrors internal/selling/total.go.

import type { Cents, Invoice } from './sale_nouns'

export interface Totals {
  readonly net: Cents
  readonly tax: Cents
  readonly total: Cents
}

/** Of a credit note all three are negative. */
export function totalsOf(invoice: Pick<Invoice, 'lines' | 'taxRate' | 'tax'>): Totals {
  const net = invoice.lines.reduce((sum, line) => sum + line.cents, 0)
  const tax = invoice.tax ?? taxOf(net, invoice.taxRate) // a note's was fixed when it was made
  return { net: net as Cents, tax: tax as Cents, total: (net + tax) as Cents }
}

/** Rounded once an invoice, half a cent up; in two steps, so that whole numbers stay exact however large the sum. */
export function taxOf(net: number, rate: number): number {
  if (net < 0) return -taxOf(-net, rate) || 0
  const whole = 10_000
  return Math.floor(net / whole) * rate + Math.floor(((net % whole) * rate + whole / 2) / whole)
}

/** What is left to pay of an invoice once its notes are taken off, tax included. */
export function leftOf(invoice: Pick<Invoice, 'lines' | 'taxRate' | 'tax'>, notes: readonly Pick<Invoice, 'lines' | 'taxRate' | 'tax'>[]): Cents {
  return [invoice, ...notes].reduce((sum, one) => sum + totalsOf(one).total, 0) as Cents
}
