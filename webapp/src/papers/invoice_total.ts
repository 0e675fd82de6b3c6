// What an invoice comes to, and what of a line stands on invoices. Mirrors internal/selling/total.go and bill.go.

import type { Cents, Invoice, InvoiceID, LineID, Sales } from '../crop/sale_nouns'

export interface Totals {
  readonly net: Cents
  readonly tax: Cents
  readonly total: Cents
}

/** Of a credit note all three are negative. */
export function totalsOf(invoice: Pick<Invoice, 'lines' | 'taxRate'>): Totals {
  const net = invoice.lines.reduce((sum, line) => sum + line.cents, 0)
  const tax = taxOf(net, invoice.taxRate)
  return { net: net as Cents, tax: tax as Cents, total: (net + tax) as Cents }
}

/** Rounded once an invoice, half a cent up; in two steps, so that whole numbers stay exact however large the sum. */
function taxOf(net: number, rate: number): number {
  if (net < 0) return -taxOf(-net, rate) || 0
  const whole = 10_000
  return Math.floor(net / whole) * rate + Math.floor(((net % whole) * rate + whole / 2) / whole)
}

export interface Billed {
  readonly bunches: number
  readonly invoices: readonly InvoiceID[]
}

/** How many bunches of each line stand on invoices that were not called void. */
export function billedLines(sales: Sales): ReadonlyMap<LineID, Billed> {
  const found = new Map<LineID, { bunches: number; invoices: InvoiceID[] }>()
  for (const invoice of sales.invoices.values()) {
    if (invoice.void !== '' || invoice.credits !== '') continue
    for (const { line, bunches } of invoice.lines) {
      if (line === '') continue
      const before = found.get(line) ?? { bunches: 0, invoices: [] }
      if (!before.invoices.includes(invoice.id)) before.invoices.push(invoice.id)
      found.set(line, { ...before, bunches: before.bunches + bunches })
    }
  }
  return found
}

/** The notes that take back of an invoice, by number. */
export function notesOn(sales: Sales, id: InvoiceID): Invoice[] {
  return [...sales.invoices.values()].filter((invoice) => invoice.credits === id).sort((a, b) => (a.number < b.number ? -1 : 1))
}
