// The lines that are due on a day, with what is packed of them, and the days on which something is due.

import { addDays } from '../crop/day'
import { type Due, dueBetween, dueOf } from '../crop/due'
import type { ColourID, Day } from '../crop/nouns'
import { buyerOf, linePrice } from '../crop/price_of'
import type { BuyerID, Line, LineID, OrderID, Sales } from '../crop/sale_nouns'
import { takenFor } from './wanted'

export interface DueLine {
  /** With the price that was agreed, or that the lists have. */
  readonly line: Line
  readonly order: OrderID
  readonly buyer: BuyerID
  readonly day: Day
  /** With the buyer's substitutes; none is any. */
  readonly colours: readonly ColourID[]
  readonly packed: PackedSoFar
}

export interface PackedSoFar {
  readonly bunches: number
  /** By lot (`lotCell`). */
  readonly stems: ReadonlyMap<string, number>
}

/** In the order of buyers' names. */
export function dueLines(sales: Sales, day: Day): DueLine[] {
  return dueBetween(sales, day, day).flatMap((due) => due.lines.map((line) => dueLineOf(sales, due, line)))
}

/** A line of a day's deliveries, by its id and its order's. */
export function dueLine(sales: Sales, order: OrderID, id: LineID): DueLine | undefined {
  const due = dueOf(sales, order)
  const line = due?.lines.find((one) => one.id === id)
  return due && line && dueLineOf(sales, due, line)
}

function dueLineOf(sales: Sales, { order, buyer, day }: Due, line: Line): DueLine {
  const priced = { ...line, price: linePrice(sales, buyer, line, day) }
  return { line: priced, order, buyer, day, colours: takenFor(line, buyerOf(sales, buyer)), packed: packedOf(sales, line.id) }
}

/** What all devices packed for a line. */
export function packedOf(sales: Sales, line: LineID): PackedSoFar {
  let bunches = 0
  const stems = new Map<string, number>()
  for (const id of sales.packedOf.get(line) ?? []) {
    const packed = sales.packed.get(id)
    bunches += packed?.bunches ?? 0
    for (const [lot, n] of packed?.stems ?? []) stems.set(lot, (stems.get(lot) ?? 0) + n)
  }
  return { bunches, stems }
}

/** How far the list of days reaches, and how far back one looks for the last on which something was due. */
const [daysBack, daysAhead, longAgo] = [7, 21, 366] as const

/** The days around today on which something is due, and the last before where there is none from today on. */
export function daysDue(sales: Sales, today: Day): Day[] {
  const near = daysBetween(sales, addDays(today, -daysBack), addDays(today, daysAhead))
  const last = near.length > 0 ? undefined : daysBetween(sales, addDays(today, -longAgo), today).at(-1)
  return last === undefined ? near : [last]
}

function daysBetween(sales: Sales, from: Day, to: Day): Day[] {
  return [...new Set(dueBetween(sales, from, to).filter(({ lines }) => lines.length > 0).map(({ day }) => day))]
}

/** The first day from today on with something due, else the last before it. */
export function dayToOpen(days: readonly Day[], today: Day): Day | undefined {
  return days.find((day) => day >= today) ?? days.at(-1)
}
