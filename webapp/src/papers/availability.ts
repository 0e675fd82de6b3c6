// What can be offered on the coming days: what lies in the cooler, today's bench with it, less what is due until then.

import { addDays } from '../crop/day'
import { byLife, cooler, type Lot } from '../crop/cooler'
import { dueBetween } from '../crop/due'
import { type ColourID, type Day, type Farm, gradesHighToLow, type LengthClass, type ToldGrade } from '../crop/nouns'
import type { Line, LotID, Sales } from '../crop/sale_nouns'
import { bedCell } from '../crop/cells'
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
  const lots = [...fresh, ...past]
  const first = days[0] ?? today
  const parts = days.map((day) => {
    const left = new Map(lots.map((lot) => [lot, lot.left] as const))
    const short = takeDue(farm, left, today, day)
    return { short, offers: offersOn(left, today, day, bunch) }
  })
  return {
    offers: parts.flatMap(({ offers }) => offers), short: parts.at(-1)?.short ?? 0,
    past: lots.filter((lot) => lot.daysLeft < daysTo(today, first)).reduce((sum, lot) => sum + lot.left, 0),
  }
}

/** Takes what is due from today to a day out of the lots, the pickiest lines first; the stems that were not found. */
function takeDue(farm: Farm, left: Map<Lot, number>, today: Day, day: Day): number {
  const wanted = dueBetween(farm.sales, today, day).flatMap((due) => due.lines.map((line) => ({ line, day: due.day, stems: openStems(farm.sales, line) })))
  wanted.sort((a, b) => compareText(a.day, b.day) || pickiness(b.line) - pickiness(a.line) || compareText(a.line.id, b.line.id))
  let short = 0
  for (const { line, day: due, stems } of wanted) short += takeLine(left, line, daysTo(today, due), stems)
  return short
}

/** Stems of a line that are not packed yet. */
function openStems(sales: Sales, line: Line): number {
  let packed = 0
  for (const id of sales.packedOf.get(line.id) ?? []) packed += sales.packed.get(id)?.bunches ?? 0
  return Math.max(line.bunches - packed, 0) * line.stems
}

function pickiness(line: Line): number {
  return rank(line.grade) * 10_000 + line.length * 4 - Math.min(line.colours.length || 99, 99)
}

/** The plainest stems that will do go first, so that the better stay on offer; of those the oldest. */
function takeLine(left: Map<Lot, number>, line: Line, inDays: number, stems: number): number {
  const fit = [...left.keys()].filter((lot) => fits(lot.id, line) && lot.daysLeft >= inDays)
  fit.sort((a, b) => rank(a.id.grade) - rank(b.id.grade) || a.id.length.lo - b.id.length.lo || compareText(a.id.cut, b.id.cut))
  let wanted = stems
  for (const lot of fit) {
    const taken = Math.min(wanted, left.get(lot) ?? 0)
    left.set(lot, (left.get(lot) ?? 0) - taken)
    wanted -= taken
  }
  return wanted
}

function fits(lot: LotID, line: Line): boolean {
  const coloured = line.colours.length === 0 || (lot.colour !== '' && line.colours.includes(lot.colour))
  return coloured && rank(lot.grade) >= rank(line.grade) && lot.length.lo >= line.length
}

/** 0 for what was not told, up to 3 for extra. */
function rank(grade: ToldGrade): number {
  const at = grade === '' ? -1 : gradesHighToLow.indexOf(grade)
  return at < 0 ? 0 : gradesHighToLow.length - 1 - at
}

function offersOn(left: ReadonlyMap<Lot, number>, today: Day, day: Day, bunch: number): Offer[] {
  const cells = new Map<string, { lots: Lot[]; stems: number }>()
  for (const [lot, stems] of left) {
    if (stems <= 0 || lot.daysLeft < daysTo(today, day)) continue
    const cell = bedCell(lot.id.colour, lot.id.grade, lot.id.length)
    const found = cells.get(cell) ?? { lots: [], stems: 0 }
    cells.set(cell, { lots: [...found.lots, lot], stems: found.stems + stems })
  }
  return [...cells.values()].map(({ lots, stems }): Offer => {
    const oldest = lots.reduce((a, b) => (a.id.cut <= b.id.cut ? a : b))
    const { colour, grade, length, cut } = oldest.id
    return { day, colour, grade, length, stems, bunches: Math.floor(stems / bunch), cut, daysLeft: oldest.daysLeft - daysTo(today, day) }
  })
}

/** By colour's name, then the better grade and the longer first. */
export function inOrder(farm: Farm, offers: readonly Offer[]): Offer[] {
  const name = (offer: Offer) => (offer.colour === '' ? '\uffff' : farm.colours.get(offer.colour)?.name ?? '\ufffe')
  return [...offers].sort((a, b) => compareText(a.day, b.day) || name(a).localeCompare(name(b)) || rank(b.grade) - rank(a.grade) || b.length.lo - a.length.lo)
}

function daysTo(from: Day, to: Day): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000)
}

/** So many days from one on. */
export function daysFrom(first: Day, days: number): Day[] {
  return Array.from({ length: days }, (_, i) => addDays(first, i))
}
