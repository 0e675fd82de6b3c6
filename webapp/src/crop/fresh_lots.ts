// The lots in the cooler that may still be sold: those cut within a stem's vase life, found without a look at any
// other of a year's bench totals.

import { visitsOn } from './bed_day'
import { daysLeft, type Lot } from './cooler'
import { addDays } from './day'
import { lotCell, parseLotCell } from './lots'
import type { Day, Farm } from './nouns'
import { type LotID, type Sales, usualCoolerDays } from './sale_nouns'

export type FreshLot = Pick<Lot, 'id' | 'left'>

/** How many days after its cut a stem is sold at most. */
export function coolerDays(sales: Sales): number {
  return sales.terms.coolerDays || usualCoolerDays
}

/** The days on which stems may have been cut that are sold on a day or later, the oldest first, the day itself left out. */
export function freshDays(sales: Sales, day: Day): Day[] {
  const days = coolerDays(sales)
  return Array.from({ length: days }, (_, i) => addDays(day, i - days))
}

/** What is left of stems cut before a day with vase life left on it, the oldest first. */
export function freshLots(farm: Farm, day: Day): FreshLot[] {
  const taken = takenOut(farm.sales)
  return freshDays(farm.sales, day).flatMap((cut) => [...cameOn(farm, cut)].flatMap(([cell, came]) => {
    const id = parseLotCell(cell)
    const left = came - (taken.get(cell) ?? 0)
    return id && left > 0 ? [{ id, left }] : []
  }))
}

/** Whether stems of a lot may be sold on a day. */
export function sellableOn(sales: Sales, { cut }: LotID, day: Day): boolean {
  return cut <= day && daysLeft(sales.terms, cut, day) >= 0
}

function cameOn(farm: Farm, cut: Day): ReadonlyMap<string, number> {
  const came = new Map<string, number>()
  for (const { purpose, bed, counts } of visitsOn(farm, cut)) {
    if (purpose !== 'bench') continue
    for (const { colour, grade, length, stems } of counts) {
      const cell = lotCell({ bed, cut, colour, grade, length })
      if (grade !== 'out') came.set(cell, (came.get(cell) ?? 0) + stems)
    }
  }
  return came
}

const known = new WeakMap<Sales, ReadonlyMap<string, number>>()

/** What was packed of each lot or written off, read once for each state of what is sold. */
function takenOut(sales: Sales): ReadonlyMap<string, number> {
  const before = known.get(sales)
  if (before) return before
  const taken = new Map(shrunk(sales))
  for (const { stems } of sales.packed.values()) for (const [cell, n] of stems) taken.set(cell, (taken.get(cell) ?? 0) + n)
  known.set(sales, taken)
  return taken
}

const knownShrink = new WeakMap<Sales['shrink'], { readonly sales: Sales; readonly of: ReadonlyMap<string, number> }>()

/** What was written off of each lot. */
export function shrunk(sales: Sales): ReadonlyMap<string, number> {
  const before = knownShrink.get(sales.shrink)
  if (before?.sales === sales) return before.of
  const of = new Map<string, number>()
  for (const { lot, stems } of sales.shrink.values()) of.set(lotCell(lot), (of.get(lotCell(lot)) ?? 0) + stems)
  knownShrink.set(sales.shrink, { sales, of })
  return of
}
