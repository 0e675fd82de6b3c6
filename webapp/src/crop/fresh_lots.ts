// The lots in the cooler that may still be sold on the days to come.

import { coolerDays, daysLeft, type Lot, sellable } from './cooler'
import { addDays } from './day'
import type { Day, Farm } from './nouns'
import type { LotID, Sales } from './sale_nouns'

export type FreshLot = Pick<Lot, 'id' | 'left'>

/** The days on which stems may have been cut that are sold on a day or later, the oldest first, the day itself left out. */
export function freshDays(sales: Sales, day: Day): Day[] {
  const days = coolerDays(sales.terms)
  return Array.from({ length: days }, (_, i) => addDays(day, i - days))
}

/** What is left of stems cut before a day with vase life left on it, the oldest first. */
export function freshLots(farm: Farm, day: Day): FreshLot[] {
  return sellable(farm, day).filter(({ id }) => id.cut < day)
}

/** Whether stems of a lot may be sold on a day. */
export function sellableOn(sales: Sales, { cut }: LotID, day: Day): boolean {
  return cut <= day && daysLeft(sales.terms, cut, day) >= 0
}
