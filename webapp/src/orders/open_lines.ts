// What is still to be delivered to a buyer, or by way of a channel: deleting either leaves it without one.

import { addDays } from '../crop/day'
import { type Due, dueOf } from '../crop/due'
import { withdrawnFact } from '../crop/facts'
import type { Day } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import type { Buyer, BuyerID, Channel, ChannelID, Sales, StandingOrder } from '../crop/sale_nouns'
import { type Deed, together } from './deeds'
import { endStanding, withdrawOrder } from './order_deeds'

export interface Open {
  /** Written orders that are due on the day or later and of which something is still to be packed, by day. */
  readonly dues: readonly Due[]
  /** Standing orders that have not ended. */
  readonly standings: readonly StandingOrder[]
}

export function openOf(sales: Sales, today: Day, isTheirs: (buyer: BuyerID) => boolean): Open {
  const dues: Due[] = []
  for (const [day, orders] of sales.ordersDue) {
    if (day < today) continue
    for (const id of orders) {
      const due = isTheirs(sales.orders.get(id)?.buyer ?? ('' as BuyerID)) ? dueOf(sales, id) : undefined
      if (due && due.lines.some((line) => bunchesPacked(sales, line.id) < line.bunches)) dues.push(due)
    }
  }
  dues.sort((a, b) => (a.day < b.day ? -1 : 1))
  const standings = [...sales.standings.values()].filter((one) => isTheirs(one.buyer) && (one.until === '' || one.until >= today))
  return { dues, standings }
}

export function isOpen({ dues, standings }: Open): boolean {
  return dues.length + standings.length > 0
}

/** Deletes a buyer and leaves what is open, which then needs a look. */
export function deleteBuyer({ id }: Buyer): Deed {
  return { facts: [withdrawnFact('buyer', id, true, 'shed')], undo: [withdrawnFact('buyer', id, false, 'shed')] }
}

/**
 * Deletes a buyer with what is open: standing orders end the day before, and orders are withdrawn, but for one that is
 * packed in part, which somebody has to look at.
 */
export function deleteBuyerAndOpen(sales: Sales, buyer: Buyer, open: Open, today: Day): Deed {
  const unpacked = open.dues.filter(({ lines }) => lines.every(({ id }) => bunchesPacked(sales, id) === 0))
  return together(deleteBuyer(buyer), ...unpacked.map(withdrawOrder), ...open.standings.map((one) => endStanding(one, addDays(today, -1))))
}

export function buyersOf(sales: Sales, channel: ChannelID): Buyer[] {
  return [...sales.buyers.values()].filter((buyer) => buyer.channel === channel).sort((a, b) => a.name.localeCompare(b.name))
}

export function deleteChannel({ id }: Channel): Deed {
  return { facts: [withdrawnFact('channel', id, true, 'shed')], undo: [withdrawnFact('channel', id, false, 'shed')] }
}

/** Deleted buyers of whom something is still due, which needs a look. */
export function goneWithOpen(sales: Sales, today: Day): { readonly buyer: Buyer; readonly open: Open }[] {
  if (sales.goneBuyers.size === 0) return []
  return [...sales.goneBuyers.values()].flatMap((buyer) => {
    const open = openOf(sales, today, (id) => id === buyer.id)
    return isOpen(open) ? [{ buyer, open }] : []
  })
}
