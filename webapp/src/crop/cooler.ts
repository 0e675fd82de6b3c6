// What lies in the cooler. Mirrors internal/selling/cooler.go.

import { compareText } from '../log/order'
import { addDays } from './day'
import { leftOf, type LotCount } from './live_lots'
import { lotCell } from './lots'
import { gradesHighToLow, type Day, type Farm } from './nouns'
import { type LotID, type SaleTerms, usualCoolerDays } from './sale_nouns'

/** What became of the stems of a lot. */
export interface Lot {
  readonly id: LotID
  /** Over the bench. */
  readonly came: number
  readonly packed: number
  readonly shrink: number
  /** Below zero more was taken out than came, which needs a look. */
  readonly left: number
  /** Of vase life on the day asked about: 0 is the last, below it is past. */
  readonly daysLeft: number
}

/** The lots that came over the bench up to a day and are not used up, the oldest first; what cannot be sold is none. */
export function cooler(farm: Pick<Farm, 'lots' | 'sales'>, day: Day): Lot[] {
  const open = [...farm.lots.open].flatMap((cell) => farm.lots.of.get(cell) ?? [])
  return listed(open, farm.sales.terms, day)
}

/**
 * Those of which something may still be sold on a day, the oldest first. Lots that nobody wrote off gather for years, and
 * this is asked at every tap: of those past their life no more than the day of their cut is looked at.
 */
export function sellable({ lots, sales: { terms } }: Pick<Farm, 'lots' | 'sales'>, day: Day): Lot[] {
  const first = addDays(day, -coolerDays(terms))
  const fresh = [...lots.open].flatMap((cell) => lots.of.get(cell) ?? []).filter(({ id }) => id.cut >= first)
  return listed(fresh, terms, day).filter(({ left }) => left > 0)
}

/** All lots up to a day, the oldest first, also those of which nothing is left. */
export function lots(farm: Pick<Farm, 'lots' | 'sales'>, day: Day): Lot[] {
  return listed([...farm.lots.of.values()], farm.sales.terms, day)
}

/** One lot as it stands; undefined where nothing ever came of it nor was taken out. */
export function lotNamed(farm: Pick<Farm, 'lots' | 'sales'>, cell: string, day: Day): Lot | undefined {
  const found = farm.lots.of.get(cell)
  return found && lotOn(found, farm.sales.terms, day)
}

/** Past its vase life by more days than this a lot is long gone: nobody wrote down what became of it. */
const longPast = 60

export interface ByLife {
  /** What may still be sold. */
  readonly fresh: readonly Lot[]
  /** Past its vase life, which is never offered. */
  readonly past: readonly Lot[]
  /** Of another time, perhaps from before anybody kept the cooler: it is not asked to be written off. */
  readonly gone: readonly Lot[]
}

export function byLife(held: readonly Lot[]): ByLife {
  const there = held.filter(({ left }) => left > 0)
  return {
    fresh: there.filter(({ daysLeft }) => daysLeft >= 0),
    past: there.filter(({ daysLeft }) => daysLeft < 0 && daysLeft >= -longPast),
    gone: there.filter(({ daysLeft }) => daysLeft < -longPast),
  }
}

export function stemsLeft(held: readonly Lot[]): number {
  return held.reduce((sum, { left }) => sum + left, 0)
}

function listed(found: readonly LotCount[], terms: SaleTerms, day: Day): Lot[] {
  return found.filter(({ id }) => id.cut <= day).map((lot) => lotOn(lot, terms, day)).sort((a, b) => compareLots(a.id, b.id))
}

function lotOn(lot: LotCount, terms: SaleTerms, day: Day): Lot {
  return { ...lot, left: leftOf(lot), daysLeft: daysLeft(terms, lot.id.cut, day) }
}

/**
 * The day on which stems must have vase life left to go to somebody who is to have them on a day. What is overdue is
 * packed of what there is today, but a day so long past that none of its stems are left is shown as it was.
 */
export function lotsDay(terms: SaleTerms, day: Day, today: Day): Day {
  return day > today || daysLeft(terms, day, today) < 0 ? day : today
}

export function daysLeft(terms: SaleTerms, cut: Day, day: Day): number {
  const days = Math.round((Date.parse(`${day}T00:00:00Z`) - Date.parse(`${cut}T00:00:00Z`)) / 86_400_000)
  return coolerDays(terms) - days
}

/** How many days after its cut a stem is sold at most. */
export function coolerDays(terms: SaleTerms): number {
  return terms.coolerDays || usualCoolerDays
}

export function compareLots(a: LotID, b: LotID): number {
  const rank = (lot: LotID) => (lot.grade === '' ? gradesHighToLow.length : gradesHighToLow.indexOf(lot.grade))
  return compareText(a.cut, b.cut) || compareText(a.bed, b.bed) || compareText(a.colour, b.colour) || rank(a) - rank(b)
    || a.length.lo - b.length.lo || a.length.hi - b.length.hi || compareText(lotCell(a), lotCell(b))
}
