// The promises of a farm against its forecast, worked out once and kept until a sale, a lot or the forecast changes.

import { coolerDays, sellable } from '../crop/cooler'
import { addDays } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import { comingOf } from './coming'
import { type Demand, demandsAsTaken, demandsByDay } from './demands'
import type { Draws } from './draws'
import { Promised, type Supply } from './promised'

interface Known {
  readonly sales: Farm['sales']
  readonly lots: Farm['lots']
  readonly today: Day
  readonly promised: Promised
}

type Selling = Pick<Farm, 'sales' | 'lots'>
/** Keeps what was found of a farm's draws for as long as nothing that it rests on changes. */
type Keep = WeakMap<Draws, Known>

const byDay: Keep = new WeakMap()
const asTaken: Keep = new WeakMap()

/** With the promises served by the day on which they are due: what may be promised beside them. */
export function openPromises(farm: Selling, draws: Draws, today: Day): Promised {
  return kept(byDay, farm, draws, today, demandsByDay)
}

/** With each line served for itself, in the order in which they were promised: what each was worth when it was. */
export function promisesAsTaken(farm: Selling, draws: Draws, today: Day): Promised {
  return kept(asTaken, farm, draws, today, demandsAsTaken)
}

function kept(of: Keep, farm: Selling, draws: Draws, today: Day, demands: (sales: Farm['sales'], today: Day, until: Day) => Demand[]): Promised {
  const { sales, lots } = farm
  const before = of.get(draws)
  if (before?.sales === sales && before.lots === lots && before.today === today) return before.promised
  const supply = supplyOf(farm, draws, today)
  const promised = new Promised(supply, demands(sales, today, addDays(lastCut(draws, today), coolerDays(sales.terms))))
  of.set(draws, { sales, lots, today, promised })
  return promised
}

/** The last day of whose stems anything is known: of a forecast that is over, today, for what lies in the cooler. */
export function lastCut(draws: Draws, today: Day): Day {
  const { last } = comingOf(draws)
  return last < today ? today : last
}

/**
 * What lies in the cooler, and of the draws the days from today on. Once anything of today's cut came over the bench, the
 * draws of today are not counted beside it: how much of it is still to come nobody knows.
 */
export function supplyOf(farm: Selling, draws: Draws, today: Day): Supply {
  const benched = [...farm.lots.of.values()].some(({ id, came }) => id.cut === today && came > 0)
  return { coming: comingOf(draws), cutFrom: benched ? addDays(today, 1) : today, lots: sellable(farm, today) }
}
