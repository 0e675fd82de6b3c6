// What lies in the cooler. Mirrors internal/selling/cooler.go.

import { compareText } from '../log/order'
import { lotCell, parseLotCell } from './lots'
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
export function cooler(farm: Farm, day: Day): Lot[] {
  return lots(farm, day).filter((lot) => lot.left !== 0)
}

/** All lots up to a day, the oldest first, also those of which nothing is left. */
export function lots(farm: Farm, day: Day): Lot[] {
  const found = new Map<string, { came: number; packed: number; shrink: number }>()
  const at = (cell: string) => {
    let lot = found.get(cell)
    if (!lot) found.set(cell, lot = { came: 0, packed: 0, shrink: 0 })
    return lot
  }
  for (const visit of farm.visits.values()) {
    if (visit.purpose !== 'bench' || visit.date > day) continue
    for (const { colour, grade, length, stems } of visit.counts) {
      if (grade !== 'out') at(lotCell({ bed: visit.bed, cut: visit.date, colour, grade, length })).came += stems
    }
  }
  for (const packed of farm.sales.packed.values()) for (const [cell, stems] of packed.stems) at(cell).packed += stems
  for (const { lot, stems } of farm.sales.shrink.values()) at(lotCell(lot)).shrink += stems
  const terms = farm.sales.terms
  return [...found].flatMap(([cell, { came, packed, shrink }]) => {
    const id = parseLotCell(cell)
    return id ? [{ id, came, packed, shrink, left: came - packed - shrink, daysLeft: daysLeft(terms, id.cut, day) }] : []
  }).sort((a, b) => compareLots(a.id, b.id))
}

export function daysLeft(terms: SaleTerms, cut: Day, day: Day): number {
  const days = Math.round((Date.parse(`${day}T00:00:00Z`) - Date.parse(`${cut}T00:00:00Z`)) / 86_400_000)
  return (terms.coolerDays || usualCoolerDays) - days
}

function compareLots(a: LotID, b: LotID): number {
  const rank = (lot: LotID) => (lot.grade === '' ? gradesHighToLow.length : gradesHighToLow.indexOf(lot.grade))
  return compareText(a.cut, b.cut) || compareText(a.bed, b.bed) || compareText(a.colour, b.colour) || rank(a) - rank(b)
    || a.length.lo - b.length.lo || a.length.hi - b.length.hi
}
