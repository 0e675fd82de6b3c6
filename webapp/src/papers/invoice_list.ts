// Invoices as they are listed: of a buyer, month by month, the newest first.

import type { BuyerID, Invoice, Sales } from '../crop/sale_nouns'

/** What somebody asks to see. Months are "2026-06". */
export interface InvoicesAsked {
  /** '' is all of them. */
  readonly buyer: BuyerID | ''
  /** The newest month that is drawn; '' is the newest that there is. */
  readonly from: string
  /** How many months before that one are drawn too. */
  readonly earlier: number
}

/** The months that have invoices of a buyer, the newest first. */
export function months(sales: Sales, buyer: BuyerID | ''): string[] {
  return [...new Set(ofBuyer(sales, buyer).map(monthOf))].sort().reverse()
}

/** Which of the months are drawn. Where the month that was asked for has none, those before it are, else the newest. */
export function monthsShown(all: readonly string[], { from, earlier }: InvoicesAsked): readonly string[] {
  const first = from === '' ? 0 : Math.max(0, all.findIndex((month) => month <= from))
  return all.slice(first, first + 1 + earlier)
}

/** The invoices of months, by month in the order of the months. */
export function invoicesIn(sales: Sales, buyer: BuyerID | '', shown: readonly string[]): [string, Invoice[]][] {
  const found = new Map<string, Invoice[]>(shown.map((month) => [month, []]))
  for (const one of ofBuyer(sales, buyer)) found.get(monthOf(one))?.push(one)
  for (const list of found.values()) list.sort((a, b) => compare(b.date, a.date) || compare(b.number, a.number))
  return [...found]
}

function ofBuyer(sales: Sales, buyer: BuyerID | ''): Invoice[] {
  const all = [...sales.invoices.values()]
  return buyer === '' ? all : all.filter((one) => one.buyer === buyer)
}

function monthOf({ date }: Invoice): string {
  return date.slice(0, 7)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
