// What of the stems sold a person should settle. Each device finds it from the farm as it stands; two tablets that
// packed without seeing each other are the usual cause.

import { claimsUnlikeNotes, notesWithoutClaim, type OverBilled, overBilled } from './billed'
import { type OverClaimed, overClaimed } from './claimed'
import { buyerName } from './due'
import { leftOf } from './live_lots'
import type { Day, Farm } from './nouns'
import { type Open, openOf } from './open_lines'
import { bunchesPacked, lineOf, stemsPacked } from './over_packed'
import { comingTwice, type Twice } from './successors'
import type { Buyer, Claim, ClaimID, Invoice, LineID, Sales } from './sale_nouns'

export type SaleLook =
  /** More was packed of a lot and written off than came over the bench. */
  | { readonly kind: 'oversold'; readonly lot: string; readonly came: number; readonly packed: number; readonly shrink: number }
  /** More bunches were packed for a line than are ordered, of which nothing may be ordered any more. */
  | { readonly kind: 'over_packed'; readonly line: LineID; readonly ordered: number; readonly packed: number }
  /** Other stems were packed for a line than so many bunches of it have: how many a bunch has was changed unseen. */
  | { readonly kind: 'other_stems'; readonly line: LineID; readonly bunches: number; readonly stems: number; readonly each: number }
  /** One standing order took another's place, and both come. */
  | ({ readonly kind: 'comes_twice' } & Twice)
  /** A buyer was deleted who is still due something. */
  | { readonly kind: 'buyer_gone'; readonly buyer: Buyer; readonly open: Open }
  /** Bunches were taken back after they were billed. Only owners' devices know it. */
  | ({ readonly kind: 'over_billed' } & OverBilled)
  /** Claims of a line come to more stems than were packed for it. */
  | ({ readonly kind: 'over_claimed' } & OverClaimed)
  /** A claim was taken away after a note was made for it. Only owners' devices know it. */
  | { readonly kind: 'claim_gone'; readonly claim: ClaimID; readonly note: Invoice }
  /** A claim says another credit than its notes gave: it was changed unseen after they were made. Only owners' devices know it. */
  | { readonly kind: 'claim_differs'; readonly claim: Claim }

export function saleLooks(farm: Pick<Farm, 'lots' | 'sales'>, today: Day): SaleLook[] {
  return [...oversold(farm), ...overPacked(farm.sales), ...otherStems(farm.sales), ...ofMoney(farm.sales), ...twice(farm.sales), ...buyersGone(farm.sales, today)]
}

function ofMoney(sales: Sales): SaleLook[] {
  return [
    ...overBilled(sales).map((one) => ({ kind: 'over_billed' as const, ...one })),
    ...overClaimed(sales).map((one) => ({ kind: 'over_claimed' as const, ...one })),
    ...claimsUnlikeNotes(sales).map((claim) => ({ kind: 'claim_differs' as const, claim })),
    ...notesWithoutClaim(sales).map((note) => ({ kind: 'claim_gone' as const, claim: note.claim as ClaimID, note })),
  ]
}

function oversold({ lots }: Pick<Farm, 'lots'>): SaleLook[] {
  return [...lots.over].sort().flatMap((cell) => {
    const lot = lots.of.get(cell)
    return lot && leftOf(lot) < 0 ? [{ kind: 'oversold' as const, lot: cell, came: lot.came, packed: lot.packed, shrink: lot.shrink }] : []
  })
}

function overPacked(sales: Sales): SaleLook[] {
  return [...sales.overPacked].sort().map((line) =>
    ({ kind: 'over_packed' as const, line, ordered: lineOf(sales, line)?.bunches ?? 0, packed: bunchesPacked(sales, line) }))
}

function otherStems(sales: Sales): SaleLook[] {
  return [...sales.otherStems].sort().map((line) =>
    ({ kind: 'other_stems' as const, line, bunches: bunchesPacked(sales, line), stems: stemsPacked(sales, line), each: lineOf(sales, line)?.stems ?? 0 }))
}

function twice(sales: Sales): SaleLook[] {
  return comingTwice(sales).map((one) => ({ kind: 'comes_twice' as const, ...one }))
}

/** Few are due anything, so that what they are due is looked for buyer by buyer once they are found. */
function buyersGone(sales: Sales, today: Day): SaleLook[] {
  if (sales.goneBuyers.size === 0) return []
  const all = openOf(sales, today, (id) => sales.goneBuyers.has(id))
  const due = new Set([...all.dues, ...all.standings].map(({ buyer }) => buyer))
  return [...sales.goneBuyers.values()].flatMap((buyer): Extract<SaleLook, { kind: 'buyer_gone' }>[] =>
    (due.has(buyer.id) ? [{ kind: 'buyer_gone', buyer, open: openOf(sales, today, (id) => id === buyer.id) }] : [])).sort((a, b) => buyerName(sales, a.buyer.id).localeCompare(buyerName(sales, b.buyer.id)))
}
