// What a discount takes off an invoice, and how much of it each line bears. Mirrors internal/selling/discount.go and parts.go.

import { taxOf } from './invoice_total'
import type { Cents, Invoice, InvoiceLine } from './sale_nouns'

/** A share in hundredths of a percent, or an amount; the other is 0. */
export interface Discount {
  readonly rate: number
  readonly cents: Cents
}

/** What it takes off bunches that come to so much: a share is rounded once an invoice, half a cent up. */
export function discountOf({ rate, cents }: Discount, goods: Cents): Cents {
  return rate === 0 ? cents : (taxOf(goods, rate) as Cents)
}

/** An invoice's rows with its discounts taken off those that have a line, so that they add up to the same. */
export function afterDiscount({ lines, credits }: Pick<Invoice, 'lines' | 'credits'>): readonly InvoiceLine[] {
  const isDiscount = (row: InvoiceLine) => credits === '' && row.line === '' && row.cents < 0
  const off = -lines.filter(isDiscount).reduce((sum, { cents }) => sum + cents, 0)
  const rows = lines.filter(({ line }) => line !== '')
  if (off === 0 || rows.length === 0) return lines
  const parts = partsOf(off, rows.map(({ cents }) => Math.max(0, cents)))
  const less = rows.map((row, i) => ({ ...row, cents: (row.cents - parts[i]!) as Cents }))
  return [...less, ...lines.filter((row) => row.line === '' && !isDiscount(row))]
}

/**
 * Splits a whole, not below 0, by weights, of which none is, so that the parts add up to it: each the whole number below its
 * share, and one more for the largest remainders, the first of equal ones. Without any weight all is in the first.
 */
export function partsOf(whole: number, weights: readonly number[]): number[] {
  const all = weights.reduce((sum, one) => sum + one, 0)
  if (all === 0) return weights.map((_, i) => (i === 0 ? whole : 0))
  const shares = weights.map((weight) => BigInt(whole) * BigInt(weight)) // exact: the product may be beyond what a number holds
  const parts = shares.map((share) => Number(share / BigInt(all)))
  const rests = shares.map((share) => Number(share % BigInt(all)))
  const left = whole - parts.reduce((sum, one) => sum + one, 0)
  const order = [...weights.keys()].sort((a, b) => rests[b]! - rests[a]! || a - b)
  for (const i of order.slice(0, left)) parts[i]! += 1
  return parts
}
