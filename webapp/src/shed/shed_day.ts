// What a day in the shed has to do, each in one number: what is to be delivered next, what of it is packed, what lies in
// the cooler.

import { addDays } from '../crop/day'
import { sellable } from '../crop/cooler'
import { dueBetween } from '../crop/due'
import type { Day, Farm } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'

export interface ShedDay {
  /** The next day on which something is to be delivered, within two weeks. */
  readonly next: { readonly day: Day; readonly deliveries: number; readonly bunches: number; readonly packed: number } | undefined
  /** Stems in the cooler that may be sold, and how many of them are good until today only. */
  readonly stems: number
  readonly lastDay: number
}

const ahead = 14

export function shedDay(farm: Pick<Farm, 'sales' | 'lots'>, today: Day): ShedDay {
  const fresh = sellable(farm, today)
  const sum = (lots: typeof fresh) => lots.reduce((all, { left }) => all + left, 0)
  return { next: nextDay(farm, today), stems: sum(fresh), lastDay: sum(fresh.filter(({ daysLeft }) => daysLeft === 0)) }
}

function nextDay({ sales }: Pick<Farm, 'sales'>, today: Day): ShedDay['next'] {
  for (let n = 0; n <= ahead; n++) {
    const day = addDays(today, n)
    const due = dueBetween(sales, day, day)
    if (due.length === 0) continue
    const lines = due.flatMap((one) => one.lines)
    return {
      day, deliveries: due.length, bunches: lines.reduce((all, { bunches }) => all + bunches, 0),
      packed: lines.reduce((all, { id, bunches }) => all + Math.min(bunches, bunchesPacked(sales, id)), 0),
    }
  }
  return undefined
}
