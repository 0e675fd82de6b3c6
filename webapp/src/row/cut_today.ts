// Today's cut list as this device chose it, with the beds in the order in which Row offers them.

import { type CutList, cutList, type CutRow } from '../crop/cut_list'
import { cutPlan } from '../crop/cut_plan'
import { addDays } from '../crop/day'
import { coolerDays } from '../crop/cooler'
import type { BedID, Day, Farm } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import type { Sales } from '../crop/sale_nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { CutChoices, rowKey } from './cut_choices'
import { bedsToWalk } from './walk'

/** Nobody cuts for a later day than this, nor for one on which the stems are past their vase life. */
export function mostAhead(sales: Sales): number {
  return Math.min(7, coolerDays(sales.terms))
}

export function todaysCuts(notebook: Notebook): CutList {
  const farm = notebook.farm.value
  const ahead = Math.min(CutChoices.of(notebook).ahead, mostAhead(farm.sales))
  return cutList(farm, cutPlan(farm, today.value, addDays(today.value, ahead), bedOrder(farm, today.value)))
}

/** Whether anything was ever ordered here: else the walk leaves no room for the list. */
export function sells({ orders, standings }: Sales): boolean {
  return orders.size + standings.size > 0
}

/** What this device still has to cut of a row: nothing where it was ticked off by hand. */
export function leftOf(choices: CutChoices, day: Day, row: CutRow): number {
  return choices.isTicked(day, rowKey(row)) ? 0 : row.left
}

interface Order {
  readonly version: number
  readonly day: Day
  readonly beds: readonly BedID[]
}

const known = new WeakMap<Farm['plants'], Order>()

function bedOrder(farm: Farm, day: Day): readonly BedID[] {
  const before = known.get(farm.plants)
  if (before?.version === farm.groundVersion && before.day === day) return before.beds
  const beds = bedsToWalk(farm, seasonOf(farm.calendar, day), day).map(({ bed }) => bed.id)
  known.set(farm.plants, { version: farm.groundVersion, day, beds })
  return beds
}
