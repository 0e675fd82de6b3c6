// What was delivered to the buyers of a channel, line by line and day by day, with what it goes for.

import { knownLine } from './once_ordered'
import type { Day } from './nouns'
import { channelOf, linePrice } from './price_of'
import type { BuyerID, Cents, ChannelID, LineID, Sales } from './sale_nouns'

/** The bunches of a line that were packed for one day. */
export interface Delivered {
  readonly line: LineID
  readonly due: Day
  readonly buyer: BuyerID
  readonly bunches: number
  /** Of all its bunches, before what the channel keeps; undefined where no price is known. */
  readonly gross: Cents | undefined
  /** What claims on it were credited. */
  readonly credited: Cents
}

/** By day and line; one whose packed bunches were all taken back is none. */
export function deliveredTo(sales: Sales, channel: ChannelID): Delivered[] {
  const found = new Map<string, { line: LineID; due: Day; buyer: BuyerID; bunches: number }>()
  for (const { line, due, buyer, bunches } of sales.packed.values()) {
    if (channelOf(sales, buyer)?.id !== channel) continue
    const key = deliveryKey({ line, due })
    const one = found.get(key)
    if (one) one.bunches += bunches
    else found.set(key, { line, due, buyer, bunches })
  }
  return [...found.values()].filter(({ bunches }) => bunches > 0).map((one) => ({ ...one, ...worthOf(sales, one) }))
    .sort((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : a.line < b.line ? -1 : 1))
}

export function deliveryKey({ line, due }: { readonly line: LineID | ''; readonly due: Day | '' }): string {
  return `${due} ${line}`
}

function worthOf(sales: Sales, { line, due, buyer, bunches }: Pick<Delivered, 'line' | 'due' | 'buyer' | 'bunches'>): Pick<Delivered, 'gross' | 'credited'> {
  const known = knownLine(sales, line)
  const price = known ? linePrice(sales, buyer, known, due) : 0
  const credited = [...sales.claimsOf.get(line) ?? []].flatMap((id) => sales.claims.get(id) ?? []).filter((claim) => claim.due === due)
    .reduce((sum, { credit }) => sum + credit, 0)
  return { gross: price > 0 ? (price * bunches as Cents) : undefined, credited: credited as Cents }
}
