// What of the stems sold a person should settle. Each device finds it from the farm as it stands; two tablets that
// packed without seeing each other are the usual cause.

import { notesWithoutClaim, type OverBilled, overBilled } from './billed'
import { type OverClaimed, overClaimed } from './claimed'
import { addDays } from './day'
import { buyerName, daysOfStanding, onDay } from './due'
import { leftOf } from './live_lots'
import type { Day, Farm } from './nouns'
import { bunchesPacked, lineOf, packedFor } from './over_packed'
import type { BuyerID, ClaimID, Invoice, LineID, OrderID, Sales, StandingID } from './sale_nouns'

export type SaleLook =
  /** More was packed of a lot and written off than came over the bench. */
  | { readonly kind: 'oversold'; readonly lot: string; readonly came: number; readonly packed: number; readonly shrink: number }
  /** More bunches were packed for a line than are ordered. */
  | { readonly kind: 'over_packed'; readonly line: LineID; readonly ordered: number; readonly packed: number }
  /** A buyer was deleted who is still due something. */
  | { readonly kind: 'buyer_gone'; readonly buyer: BuyerID; readonly orders: readonly OrderID[]; readonly standings: readonly StandingID[]; readonly next: Day }
  /** Bunches were taken back after they were billed. Only owners' devices know it. */
  | ({ readonly kind: 'over_billed' } & OverBilled)
  /** Claims of a line come to more stems than were packed for it. */
  | ({ readonly kind: 'over_claimed' } & OverClaimed)
  /** A claim was taken away after a note was made for it. Only owners' devices know it. */
  | { readonly kind: 'claim_gone'; readonly claim: ClaimID; readonly note: Invoice }

/** A standing order may be changed later: of what it once ordered, only so many days ago is asked about. */
export const standingDays = 7
/** How far ahead a standing order's next delivery is looked for. */
const weeksAhead = 53

export function saleLooks(farm: Pick<Farm, 'lots' | 'sales'>, today: Day): SaleLook[] {
  return [...oversold(farm), ...overPacked(farm.sales, today), ...ofMoney(farm.sales), ...buyersGone(farm.sales, today)]
}

function ofMoney(sales: Sales): SaleLook[] {
  return [
    ...overBilled(sales).map((one) => ({ kind: 'over_billed' as const, ...one })),
    ...overClaimed(sales).map((one) => ({ kind: 'over_claimed' as const, ...one })),
    ...notesWithoutClaim(sales).map((note) => ({ kind: 'claim_gone' as const, claim: note.claim as ClaimID, note })),
  ]
}

function oversold({ lots }: Pick<Farm, 'lots'>): SaleLook[] {
  return [...lots.over].sort().flatMap((cell) => {
    const lot = lots.of.get(cell)
    return lot && leftOf(lot) < 0 ? [{ kind: 'oversold' as const, lot: cell, came: lot.came, packed: lot.packed, shrink: lot.shrink }] : []
  })
}

function overPacked(sales: Sales, today: Day): SaleLook[] {
  const since = addDays(today, -standingDays)
  return [...sales.overPacked].sort().flatMap((line) => {
    const long = onDay(line) !== undefined && !sales.lines.has(line) && packedFor(sales, line).every(({ due }) => due < since)
    if (long) return []
    return [{ kind: 'over_packed' as const, line, ordered: lineOf(sales, line)?.bunches ?? 0, packed: bunchesPacked(sales, line) }]
  })
}

/** Deleted buyers are few, so that what they are due is looked for buyer by buyer. */
function buyersGone(sales: Sales, today: Day): SaleLook[] {
  if (sales.goneBuyers.size === 0) return []
  const found = new Map<BuyerID, { orders: OrderID[]; standings: StandingID[]; days: Day[] }>()
  const of = (buyer: BuyerID) => {
    const there = found.get(buyer) ?? { orders: [], standings: [], days: [] }
    found.set(buyer, there)
    return there
  }
  for (const [day, ids] of sales.ordersDue) {
    if (day < today) continue
    for (const id of ids) {
      const order = sales.orders.get(id)
      if (!order || !isGone(sales, order.buyer) || !stillToPack(sales, id)) continue
      of(order.buyer).orders.push(id)
      of(order.buyer).days.push(day)
    }
  }
  for (const standing of sales.standings.values()) {
    if (!isGone(sales, standing.buyer) || (sales.linesOf.get(standing.id)?.size ?? 0) === 0) continue
    const next = daysOfStanding(standing, today, addDays(today, 7 * weeksAhead))[0]
    if (next === undefined) continue
    of(standing.buyer).standings.push(standing.id)
    of(standing.buyer).days.push(next)
  }
  return [...found].map(([buyer, { orders, standings, days }]) => ({ kind: 'buyer_gone' as const, buyer, orders: orders.sort(), standings, next: days.sort()[0]! }))
    .sort((a, b) => buyerName(sales, a.buyer).localeCompare(buyerName(sales, b.buyer)))
}

function isGone(sales: Sales, buyer: BuyerID): boolean {
  return sales.goneBuyers.has(buyer) && !sales.buyers.has(buyer)
}

function stillToPack(sales: Sales, order: OrderID): boolean {
  return [...sales.linesOf.get(order) ?? []].some((id) => bunchesPacked(sales, id) < (sales.lines.get(id)?.bunches ?? 0))
}
