// Length classes as the farm wants them shown, in centimetres or inches, and those in use.

import { addDays } from '../crop/day'
import { type Day, type Farm, type LengthClass, type LengthUnit, type Millimetres, openEnd } from '../crop/nouns'
import { t } from '../messages/messages'

const millimetresPerInch = 25.4

export function inUnit(length: Millimetres, unit: LengthUnit): number {
  return Math.round(unit === 'in' ? length / millimetresPerInch : length / 10)
}

/** A measured length that need not be whole, in the farm's unit. */
export function centimetresIn(cm: number, unit: LengthUnit): number {
  return unit === 'in' ? (cm * 10) / millimetresPerInch : cm
}

/** Named by the lower bound: "50 cm", "60+ cm" without an upper one; "any" where it was not told. */
export function lengthName(length: LengthClass, unit: LengthUnit): string {
  if (length.hi === 0) return t('length.any')
  const lo = inUnit(length.lo, unit)
  if (length.hi === openEnd) return t(unit === 'in' ? 'length.in.open' : 'length.cm.open', { lo })
  return t(unit === 'in' ? 'length.in' : 'length.cm', { lo })
}

/** Read aloud: "50 to 60 centimetres". */
export function lengthSpoken(length: LengthClass, unit: LengthUnit): string {
  if (length.hi === 0) return t('length.any.spoken')
  const lo = inUnit(length.lo, unit)
  if (length.hi === openEnd) return t(unit === 'in' ? 'length.in.over' : 'length.cm.over', { lo })
  return t(unit === 'in' ? 'length.in.spoken' : 'length.cm.spoken', { lo, hi: inUnit(length.hi, unit) })
}

function tenCentimetres(cm: number): LengthClass {
  return { lo: (cm * 10) as Millimetres, hi: (cm * 10 + 100) as Millimetres }
}

/** Where little was measured yet: the classes that most cut perennials fall in. */
const atFirst = [40, 50, 60].map(tenCentimetres)

/** What may be asked for beside those in use: classes of ten centimetres, the last without an end. */
export const lengthsToChoose: readonly LengthClass[] = [
  ...Array.from({ length: 11 }, (_, i) => tenCentimetres(10 * (i + 1))), { lo: 1200 as Millimetres, hi: openEnd },
]

export interface LengthsInUse {
  readonly lengths: readonly LengthClass[]
  /** Which has most stems, of the lengths and, behind them, of those whose length was not told. */
  readonly most: number
}

/**
 * The length classes of at least one in a hundred of the stems measured in the year before a day,
 * shortest first; and those to start with, as long as these are fewer than three. The day itself is
 * left out, so that no column comes or goes under a finger.
 */
export function lengthsInUse(farm: Farm, day: Day): LengthsInUse {
  const found = new Map<number, { readonly length: LengthClass; stems: number }>()
  const from = addDays(day, -366)
  let untold = 0
  for (const visit of farm.visits.values()) {
    if (visit.date < from || visit.date >= day) continue
    for (const { grade, length, stems } of visit.counts) {
      // Without a grade it was counted as one number, and not in a grid.
      if (length.hi === 0) untold += grade === '' ? 0 : stems
      else if (found.has(numberOf(length))) found.get(numberOf(length))!.stems += stems
      else found.set(numberOf(length), { length, stems })
    }
  }
  const measured = [...found.values()].reduce((sum, one) => sum + one.stems, 0)
  for (const [number, one] of found) if (one.stems * 100 < measured) found.delete(number)
  const few = found.size < 3 ? atFirst : []
  for (const length of few) if (!found.has(numberOf(length))) found.set(numberOf(length), { length, stems: 0 })
  const sorted = [...found.values()].sort((a, b) => inOrder(a.length, b.length))
  const stems = [...sorted.map((one) => one.stems), untold]
  return { lengths: sorted.map(({ length }) => length), most: stems.indexOf(Math.max(...stems)) }
}

/** The same with further classes: asked for, or counted in already. */
export function withLengths(inUse: LengthsInUse, more: readonly LengthClass[]): LengthsInUse {
  const known = new Set(inUse.lengths.map(numberOf))
  const news = more.filter((length) => length.hi > 0 && !known.has(numberOf(length)) && known.add(numberOf(length)))
  if (news.length === 0) return inUse
  const most = inUse.lengths[inUse.most]
  const lengths = [...inUse.lengths, ...news].sort(inOrder)
  return { lengths, most: most ? lengths.indexOf(most) : lengths.length }
}

function inOrder(a: LengthClass, b: LengthClass): number {
  return a.lo - b.lo || a.hi - b.hi
}

/** As keyOf, and quicker over a farm of many thousand counts: bounds stay within a million. */
function numberOf(length: LengthClass): number {
  return length.lo * 2 * openEnd + length.hi
}

/** Of its own for each class, also of two that begin alike. */
export function keyOf(length: LengthClass): string {
  return `${length.lo}|${length.hi}`
}

/** A bed's measure: metres, or feet where the farm counts in inches. */
export function lengthMeasured(length: Millimetres, unit: LengthUnit): string {
  if (unit === 'in') return t('length.ft', { n: Math.round(length / millimetresPerInch / 12) })
  return t('length.m', { n: Math.round(length / 100) / 10 })
}
