// What is still to be delivered to a buyer, or by way of a channel: deleting either leaves it without one.

import { addDays } from './day'
import { daysOfStanding, type Due, dueOf } from './due'
import type { Day } from './nouns'
import { bunchesPacked } from './over_packed'
import type { BuyerID, Sales, StandingOrder } from './sale_nouns'

export interface Open {
  /** Written orders that are due on the day or later and of which something is still to be packed, by day. */
  readonly dues: readonly Due[]
  /** Standing orders that still come. */
  readonly standings: readonly StandingOrder[]
  /** The first day on which any of it is due; '' where nothing is. */
  readonly next: Day | ''
}

/** How far ahead a standing order's next delivery is looked for. */
const weeksAhead = 53

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
  const standings = [...sales.standings.values()].flatMap((one) => {
    const next = isTheirs(one.buyer) ? nextOf(sales, one, today) : undefined
    return next === undefined ? [] : [{ one, next }]
  })
  const days = [...dues.map(({ day }) => day), ...standings.map(({ next }) => next)].sort()
  return { dues, standings: standings.map(({ one }) => one), next: days[0] ?? '' }
}

export function isOpen({ dues, standings }: Pick<Open, 'dues' | 'standings'>): boolean {
  return dues.length + standings.length > 0
}

function nextOf(sales: Sales, standing: StandingOrder, today: Day): Day | undefined {
  if ((sales.linesOf.get(standing.id)?.size ?? 0) === 0) return undefined
  const from = standing.from > today ? standing.from : today
  return daysOfStanding(standing, from, addDays(from, 7 * weeksAhead))[0]
}
