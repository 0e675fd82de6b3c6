// What was delivered to the buyers of a channel, line by line and day by day, with what it goes for.

import { partsOf } from './discount'
import { knownLine } from './once_ordered'
import type { Day } from './nouns'
import { channelOf, linePrice } from './price_of'
import type { Billed, BuyerID, Cents, ChannelID, LineID, Sales } from './sale_nouns'

/** The bunches of a line that were packed for one day. */
export interface Delivered {
  readonly line: LineID
  readonly due: Day
  readonly buyer: BuyerID
  readonly bunches: number
  /** Of all its bunches, after discounts and before what the channel keeps; undefined where no price is known. */
  readonly gross: Cents | undefined
  /** What claims on it were credited. */
  readonly credited: Cents
}

/** By day and line; one whose packed bunches were all taken back is none. */
export function deliveredTo(sales: Sales, channel: ChannelID): Delivered[] {
  const isTo = ({ buyer }: Brought) => channelOf(sales, buyer)?.id === channel
  return [...broughtByLine(sales).values()].filter((all) => all.some(isTo)).flatMap((all) => worthOf(sales, all)).filter(isTo)
    .sort((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : a.line < b.line ? -1 : 1))
}

type Brought = Omit<Delivered, 'gross' | 'credited'>

/** The earliest day first. Several days of a line are those of an order that was moved after some of it was packed. */
function broughtByLine({ packed }: Sales): Map<LineID, Brought[]> {
  const found = new Map<string, { line: LineID; due: Day; buyer: BuyerID; bunches: number }>()
  for (const { line, due, buyer, bunches } of packed.values()) {
    const key = deliveryKey({ line, due })
    const one = found.get(key)
    if (one) one.bunches += bunches
    else found.set(key, { line, due, buyer, bunches })
  }
  const byLine = new Map<LineID, Brought[]>()
  for (const one of [...found.values()].sort((a, b) => (a.due < b.due ? -1 : 1))) if (one.bunches > 0) byLine.set(one.line, [...byLine.get(one.line) ?? [], one])
  return byLine
}

export function deliveryKey({ line, due }: { readonly line: LineID | ''; readonly due: Day | '' }): string {
  return `${due} ${line}`
}

/** Of all days of one line. */
function worthOf(sales: Sales, all: readonly Brought[]): Delivered[] {
  const billed = sales.billing.lines.get(all[0]!.line)
  const gross = billed && billed.on.size > 0 ? billedGross(sales, all, billed) : all.map((one) => priced(priceOfOne(sales, one), one.bunches))
  return all.map((one, i) => ({ ...one, gross: gross[i], credited: creditedOn(sales, one) }))
}

/**
 * What stands on invoices is worth what they charge after discounts, less what notes took back of its bunches; what was packed
 * beyond that goes at its price. The days of a line share it by their bunches, since an invoice names but the last.
 */
function billedGross(sales: Sales, all: readonly Brought[], { bunches, on }: Billed): (Cents | undefined)[] {
  const beyond = Math.max(0, all.reduce((sum, one) => sum + one.bunches, 0) - bunches)
  const rest = beyond === 0 ? 0 : priced(priceOfOne(sales, all.at(-1)!), beyond)
  if (rest === undefined) return all.map(() => undefined)
  const charged = [...on.values()].reduce((sum, { left, claimed }) => sum + left + claimed, 0)
  return partsOf(charged + rest, all.map((one) => one.bunches)) as Cents[]
}

function priced(price: Cents, bunches: number): Cents | undefined {
  return price > 0 ? (price * bunches as Cents) : undefined
}

function priceOfOne(sales: Sales, { line, due, buyer }: Brought): Cents {
  const known = knownLine(sales, line)
  return known ? linePrice(sales, buyer, known, due) : (0 as Cents)
}

function creditedOn({ claimsOf, claims }: Sales, { line, due }: Brought): Cents {
  return [...claimsOf.get(line) ?? []].flatMap((id) => claims.get(id) ?? []).filter((claim) => claim.due === due)
    .reduce((sum, { credit }) => sum + credit, 0) as Cents
}
