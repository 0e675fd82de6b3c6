// Buyers and channels that are deleted, and come back, with what is still due to them.

import { type Deed, together } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import type { Day } from '../crop/nouns'
import type { Open } from '../crop/open_lines'
import type { Buyer, BuyerID, Channel, ChannelID, Sales } from '../crop/sale_nouns'
import { dropStanding, noMoreThanPacked } from './order_deeds'

/** Deletes a buyer and leaves what is open, which then needs a look. */
export function deleteBuyer({ id }: Pick<Buyer, 'id'>): Deed {
  return { facts: [buyerGone(id, true)], undo: [buyerGone(id, false)] }
}

export function bringBuyerBack({ id }: Pick<Buyer, 'id'>): Deed {
  return { facts: [buyerGone(id, false)], undo: [buyerGone(id, true)] }
}

/**
 * Deletes a buyer, or leaves a deleted one so, with what is open: standing orders end, and orders are withdrawn; what is
 * packed stays ordered. Who takes it back wants it delivered after all, so the buyer comes back too.
 */
export function deleteBuyerAndOpen(sales: Sales, buyer: Pick<Buyer, 'id'>, open: Open, today: Day): Deed {
  return together(deleteBuyer(buyer), ...open.dues.map((due) => noMoreThanPacked(sales, due)), ...open.standings.map((one) => dropStanding(sales, one, today)))
}

function buyerGone(id: BuyerID, on: boolean) {
  return withdrawnFact('buyer', id, on, 'shed')
}

export function buyersOf(sales: Sales, channel: ChannelID): Buyer[] {
  return [...sales.buyers.values()].filter((buyer) => buyer.channel === channel).sort((a, b) => a.name.localeCompare(b.name))
}

export function deleteChannel({ id }: Channel): Deed {
  return { facts: [withdrawnFact('channel', id, true, 'shed')], undo: [withdrawnFact('channel', id, false, 'shed')] }
}
