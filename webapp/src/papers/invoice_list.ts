// Invoices as they are listed: of a buyer, of a month, the newest first.

import type { BuyerID, Invoice, Sales } from '../crop/sale_nouns'

/** Months are "2026-06"; '' is all of them, as it is of buyers. */
export function invoicesOf(sales: Sales, buyer: BuyerID | '', month: string): Invoice[] {
  const found = [...sales.invoices.values()].filter((one) => (buyer === '' || one.buyer === buyer) && (month === '' || one.date.startsWith(month)))
  return found.sort((a, b) => compare(b.date, a.date) || compare(b.number, a.number))
}

/** The months that have invoices, the newest first. */
export function months(sales: Sales): string[] {
  return [...new Set([...sales.invoices.values()].map(({ date }) => date.slice(0, 7)))].sort().reverse()
}

/** A list cut by months, in its order. */
export function byMonth(list: readonly Invoice[]): [string, Invoice[]][] {
  const found = new Map<string, Invoice[]>()
  for (const one of list) found.set(one.date.slice(0, 7), [...found.get(one.date.slice(0, 7)) ?? [], one])
  return [...found]
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
