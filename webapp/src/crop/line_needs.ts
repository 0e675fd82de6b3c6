// What the lines of some days still need: their stems less what is packed for them, and which stems they take.

import { type ColourID, type Day, gradesHighToLow, type LengthClass, type Millimetres, type ToldGrade } from './nouns'
import { parseLotCell } from './lots'
import { toDeliver } from './overdue'
import type { BuyerID, Line, LineID, OrderID, Sales } from './sale_nouns'

/** What stems must be at least; '' and 0 are any. */
export interface Least {
  readonly grade: ToldGrade
  readonly length: Millimetres
}

export interface LineNeed extends Least {
  readonly line: LineID
  /** The delivery that the line is of. */
  readonly order: OrderID
  readonly buyer: BuyerID
  readonly due: Day
  /** The day on which its stems are to be good: that of the delivery, or today where it is overdue. */
  readonly on: Day
  /** Not packed yet. Stems that were cut on the day or later and packed are still counted here: they are of that day's cut. */
  readonly stems: number
  /** Those asked for; none is any. */
  readonly colours: readonly ColourID[]
  /** What the buyer takes where those are short. */
  readonly instead: readonly ColourID[]
}

/**
 * Of the lines to be delivered until a day, those overdue too, by day; lines that need nothing are left out. For the
 * cut: stems that were cut today and packed are still counted, since they are of what the day's cut was to bring.
 */
export function needsOf(sales: Sales, today: Day, until: Day): LineNeed[] {
  return needs(sales, today, until, (line) => packedBefore(sales, line, today))
}

/** The same, but of what is in no bunch yet, whenever it was cut. */
export function openNeeds(sales: Sales, today: Day, until: Day): LineNeed[] {
  return needs(sales, today, until, (line) => packedBefore(sales, line, undefined))
}

function needs(sales: Sales, today: Day, until: Day, packed: (line: Line) => number): LineNeed[] {
  return toDeliver(sales, today, until).flatMap(({ order, buyer, day, lines }) => lines.flatMap((line) => {
    const stems = line.bunches * line.stems - packed(line)
    if (stems <= 0) return []
    const { id, grade, length, colours } = line
    return [{ line: id, order, buyer, due: day, on: day < today ? today : day, stems, grade, length, colours, instead: insteadOf(sales, buyer, line) }]
  }))
}

/** Stems packed for a line out of what was cut before a day, if one is told: by its bunches, or by its lots where these hold more. */
function packedBefore(sales: Sales, line: Line, day: Day | undefined): number {
  let [bunches, stems, ofDay] = [0, 0, 0]
  for (const id of sales.packedOf.get(line.id) ?? []) {
    const packed = sales.packed.get(id)
    if (!packed) continue
    bunches += packed.bunches
    for (const [cell, n] of packed.stems) {
      stems += n
      if (day !== undefined && (parseLotCell(cell)?.cut ?? '') >= day) ofDay += n
    }
  }
  return Math.max(bunches * line.stems, stems) - ofDay
}

function insteadOf(sales: Sales, buyer: BuyerID, { colours, exact }: Line): ColourID[] {
  if (exact) return []
  const accepts = (sales.buyers.get(buyer) ?? sales.goneBuyers.get(buyer))?.accepts
  const others = colours.flatMap((colour) => accepts?.get(colour) ?? [])
  return [...new Set(others)].filter((colour) => !colours.includes(colour))
}

/** Whether stems are told to be good enough; what was not told is not held to be. */
export function meets(least: Least, grade: ToldGrade, length: LengthClass): boolean {
  return gradeMeets(least.grade, grade) && (least.length === 0 || (length.hi > 0 && length.lo >= least.length))
}

/** The same, but what was not told is taken for what was asked. */
export function mayMeet(least: Least, grade: ToldGrade, length: LengthClass): boolean {
  return (grade === '' || gradeMeets(least.grade, grade)) && (length.hi === 0 || length.lo >= least.length)
}

function gradeMeets(least: ToldGrade, grade: ToldGrade): boolean {
  if (grade === 'out') return false
  if (least === '') return true
  return grade !== '' && gradesHighToLow.indexOf(grade) <= gradesHighToLow.indexOf(least)
}

/** The most demanding first: by length, then grade. */
export function strictestFirst(a: Least, b: Least): number {
  return b.length - a.length || rank(a.grade) - rank(b.grade)
}

function rank(grade: ToldGrade): number {
  return grade === '' ? gradesHighToLow.length : gradesHighToLow.indexOf(grade)
}
