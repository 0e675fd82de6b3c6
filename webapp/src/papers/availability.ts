// What can be offered on the coming days: what lies in the cooler, today's bench with it, less what is promised until the
// last of them. The days are choices: what is offered on one of them is there as long as nothing was sold of it for
// another.

import { bedCell } from '../crop/cells'
import { byLife, cooler, daysLeft, type Lot, stemsLeft } from '../crop/cooler'
import { servedByCooler } from '../crop/cut_plan'
import { addDays } from '../crop/day'
import { freeOn } from '../crop/free_lots'
import { sellableOn } from '../crop/fresh_lots'
import { openNeeds } from '../crop/line_needs'
import { type ColourID, type Day, type Farm, gradesHighToLow, type LengthClass, type ToldGrade } from '../crop/nouns'
import type { LotID, Sales } from '../crop/sale_nouns'
import { compareText } from '../log/order'

/** Stems of one colour class, grade and length class that are there on a day. */
export interface Offer {
  readonly day: Day
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly stems: number
  /** Whole bunches of as many stems as were asked about. */
  readonly bunches: number
  /** The day on which the oldest of them were cut. */
  readonly cut: Day
  /** Of their vase life on the day that is offered. */
  readonly daysLeft: number
}

export interface Available {
  readonly offers: readonly Offer[]
  /** Stems that are due until the last day and of which nothing lies there. */
  readonly short: number
  /** Stems whose vase life ends before the first day: they are offered to nobody. */
  readonly past: number
}

/** What is there on each of some days, as it is known today; bunch is how many stems a bunch has. */
export function available(farm: Farm, today: Day, days: readonly Day[], bunch: number): Available {
  const { fresh, past } = byLife(cooler(farm, today))
  const first = days[0] ?? today
  const promised = openNeeds(farm.sales, today, days.at(-1) ?? today)
  const free = freeOn(farm.sales, promised, fresh, days)
  return {
    offers: days.flatMap((day, i) => offersOn(farm.sales, fresh, free[i]!, day, bunch)),
    short: shortUntil(farm.sales, fresh, today, days.at(-1) ?? today),
    past: stemsLeft([...fresh.filter(({ id }) => !sellableOn(farm.sales, id, first)), ...past]),
  }
}

function shortUntil(sales: Sales, lots: readonly Lot[], today: Day, day: Day): number {
  return servedByCooler(sales, openNeeds(sales, today, day), lots, []).reduce((sum, { stems }) => sum + stems, 0)
}

function offersOn(sales: Sales, lots: readonly Lot[], free: readonly number[], day: Day, bunch: number): Offer[] {
  const cells = new Map<string, { readonly oldest: LotID; stems: number }>()
  lots.forEach(({ id }, i) => { // the oldest first
    const stems = free[i]!
    const cell = bedCell(id.colour, id.grade, id.length)
    if (stems > 0) cells.set(cell, { oldest: cells.get(cell)?.oldest ?? id, stems: stems + (cells.get(cell)?.stems ?? 0) })
  })
  return [...cells.values()].map(({ oldest: { colour, grade, length, cut }, stems }): Offer => (
    { day, colour, grade, length, stems, bunches: Math.floor(stems / bunch), cut, daysLeft: daysLeft(sales.terms, cut, day) }
  ))
}

/** By colour's name, then the better grade and the longer first. */
export function inOrder(farm: Farm, offers: readonly Offer[]): Offer[] {
  const name = (offer: Offer) => (offer.colour === '' ? '\uffff' : farm.colours.get(offer.colour)?.name ?? '\ufffe')
  return [...offers].sort((a, b) => compareText(a.day, b.day) || name(a).localeCompare(name(b)) || place(a.grade) - place(b.grade) || b.length.lo - a.length.lo)
}

function place(grade: ToldGrade): number {
  return grade === '' ? gradesHighToLow.length : gradesHighToLow.indexOf(grade)
}

/** So many days from one on. */
export function daysFrom(first: Day, days: number): Day[] {
  return Array.from({ length: days }, (_, i) => addDays(first, i))
}

/** Days that follow one another on which the same is offered. */
export interface Span {
  readonly from: Day
  to: Day
  readonly offers: readonly Offer[]
  readonly said: string
}

/** The days of offers, those as one of which the same is said; a day without offers parts those around it. */
export function spansOf(offers: readonly Offer[], say: (offer: Offer) => string): Span[] {
  const spans: Span[] = []
  for (const day of new Set(offers.map((offer) => offer.day))) {
    const of = offers.filter((offer) => offer.day === day)
    const said = of.map(say).join('\n')
    const last = spans.at(-1)
    if (last?.said === said && addDays(last.to, 1) === day) last.to = day
    else spans.push({ from: day, to: day, offers: of, said })
  }
  return spans
}
