// The promises that are open: which stems each may have, and how many it still lacks.

import { coolerDays } from '../crop/cooler'
import { addDays } from '../crop/day'
import { type LineNeed, meets, openNeeds, type Least } from '../crop/line_needs'
import { type ColourID, type Day, type Grade, type LengthClass, openEnd } from '../crop/nouns'
import type { LineID, OrderID, Sales, SaleTerms, StandingID } from '../crop/sale_nouns'
import { onDay } from '../crop/due'
import type { Kind } from './coming'

/** Which stems somebody wants, and when they may have been cut. */
export interface Wish extends Least {
  /** None is any. */
  readonly colours: readonly ColourID[]
  /** The first and the last day on which they may have been cut. */
  readonly from: Day
  readonly to: Day
}

export interface Demand extends Wish {
  readonly stems: number
  readonly lines: readonly LineID[]
}

/**
 * Stems that are delivered on a day were cut on it or before, as the cut list has it, and so lately that the farm still
 * sells them on it.
 */
export function cutFor(terms: SaleTerms, day: Day): { readonly from: Day; readonly to: Day } {
  return { from: addDays(day, -coolerDays(terms)), to: day }
}

/** By the day on which they are due; lines that take the same stems are one. What a buyer takes instead is as good as what was asked for. */
export function demandsByDay(sales: Sales, today: Day, until: Day): Demand[] {
  const found = new Map<string, Demand>()
  for (const need of openNeeds(sales, today, until)) {
    const demand = demandOf(sales, need)
    const key = [demand.to, demand.grade, demand.length, ...[...demand.colours].sort()].join('|')
    const same = found.get(key)
    found.set(key, same ? { ...same, stems: same.stems + demand.stems, lines: [...same.lines, ...demand.lines] } : demand)
  }
  return [...found.values()].sort((a, b) => compare(a.to, b.to))
}

/** Each line for itself, by the day on which its promise was given. */
export function demandsAsTaken(sales: Sales, today: Day, until: Day): Demand[] {
  const needs = openNeeds(sales, today, until).map((need) => ({ need, taken: takenOn(sales, need.order) }))
  needs.sort((a, b) => compare(a.taken, b.taken) || compare(a.need.due, b.need.due) || compare(a.need.line, b.need.line))
  return needs.map(({ need }) => demandOf(sales, need))
}

/** A day of a standing order is as old as it is, also once it was changed by hand: then an order of no such day is written. */
function takenOn(sales: Sales, order: OrderID): Day | '' {
  const standing = sales.standings.get((onDay(order)?.template ?? '') as StandingID)
  return sales.orders.get(order)?.taken || (standing?.from ?? '')
}

function demandOf(sales: Sales, need: LineNeed): Demand {
  const { colours, instead, grade, length, stems, line } = need
  return { ...cutFor(sales.terms, need.on), colours: colours.length === 0 ? [] : [...colours, ...instead], grade, length, stems, lines: [line] }
}

/** Whether stems of a kind to come may be had for it, whenever they are cut. */
export function takesKind(wish: Wish, { colour, grade, length }: Kind): boolean {
  return takes(wish, colour, grade, { lo: length, hi: openEnd })
}

/** Whether stems that lie in the cooler may be had for it; what nobody told of them is not held to be good enough. */
export function takesLot(wish: Wish, lot: { readonly colour: ColourID | ''; readonly grade: Grade | ''; readonly length: LengthClass; readonly cut: Day }): boolean {
  return wish.from <= lot.cut && lot.cut <= wish.to && takes(wish, lot.colour, lot.grade, lot.length)
}

function takes(wish: Wish, colour: ColourID | '', grade: Grade | '', length: LengthClass): boolean {
  return (wish.colours.length === 0 || (colour !== '' && wish.colours.includes(colour))) && meets(wish, grade, length)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
