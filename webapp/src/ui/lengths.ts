// Length classes as the farm wants them shown, in centimetres or inches, and those in use.

import { type Farm, type LengthClass, type LengthUnit, type Millimetres, openEnd } from '../crop/nouns'
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

/** Where nothing was measured yet: the classes that most cut perennials fall in. */
const atFirst = [40, 50, 60].map(tenCentimetres)

export interface LengthsInUse {
  readonly lengths: readonly LengthClass[]
  /** The class with most stems so far. */
  readonly most: number
}

/** Every length class that the farm ever counted in, and those to start with, shortest first. */
export function lengthsInUse(farm: Farm): LengthsInUse {
  const stems = new Map(atFirst.map((length) => [numberOf(length), { length, stems: 0 }]))
  for (const visit of farm.visits.values()) {
    for (const { length, stems: n } of visit.counts) {
      if (length.hi === 0) continue
      const known = stems.get(numberOf(length))
      if (known) known.stems += n
      else stems.set(numberOf(length), { length, stems: n })
    }
  }
  const sorted = [...stems.values()].sort((a, b) => a.length.lo - b.length.lo || a.length.hi - b.length.hi)
  const most = sorted.reduce((best, entry, i) => (entry.stems > (sorted[best]?.stems ?? 0) ? i : best), 0)
  return { lengths: sorted.map(({ length }) => length), most }
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
