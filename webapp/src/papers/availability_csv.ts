// What is on offer as a file for a spreadsheet, in the columns that whoever gets it wants.

import type { Farm } from '../crop/nouns'
import { openEnd } from '../crop/nouns'
import { inUnit } from '../ui/lengths'
import { typedAmount } from '../ui/money'
import type { Offer } from './availability'
import type { PriceOf } from './availability_price'

/** Words of the file, the same in every language. */
export const csvColumns = ['day', 'colour', 'grade', 'length_from', 'length_to', 'length_unit', 'bunches', 'stems_per_bunch', 'stems', 'cut', 'days_left', 'price', 'currency'] as const
export type CsvColumn = (typeof csvColumns)[number]
/** What only an owner may know. */
export const priceColumns: readonly CsvColumn[] = ['price', 'currency']

export interface CsvOptions {
  readonly columns: readonly CsvColumn[]
  readonly bunch: number
  readonly currency: string
  /** By which amounts have a point or a comma; a comma stands in quotes, as all text does. */
  readonly locale: string
  /** undefined is without prices. */
  readonly priceOf: PriceOf | undefined
}

/** RFC 4180, with the mark by which spreadsheets know UTF-8. */
export function availabilityCsv(farm: Farm, offers: readonly Offer[], options: CsvOptions): string {
  const rows = offers.map((offer) => options.columns.map((column) => field(valueOf(farm, offer, column, options))).join())
  return `\uFEFF${[options.columns.join(), ...rows].join('\r\n')}\r\n`
}

function valueOf(farm: Farm, offer: Offer, column: CsvColumn, options: CsvOptions): string | number {
  const price = options.priceOf?.(offer)
  switch (column) {
    case 'day': return offer.day
    case 'colour': return offer.colour === '' ? '' : farm.colours.get(offer.colour)?.name ?? offer.colour
    case 'grade': return offer.grade
    case 'length_from': return offer.length.hi === 0 ? '' : inUnit(offer.length.lo, farm.unit)
    case 'length_to': return offer.length.hi === 0 || offer.length.hi === openEnd ? '' : inUnit(offer.length.hi, farm.unit)
    case 'length_unit': return offer.length.hi === 0 ? '' : farm.unit
    case 'bunches': return offer.bunches
    case 'stems_per_bunch': return options.bunch
    case 'stems': return offer.stems
    case 'cut': return offer.cut
    case 'days_left': return offer.daysLeft
    case 'price': return price === undefined ? (options.priceOf ? 'ask' : '') : typedAmount(price, options.locale)
    case 'currency': return price === undefined ? '' : options.currency
  }
}

/** What a spreadsheet would take for a formula is marked as a text, in full-width signs too (OWASP, CSV Injection). */
function field(value: string | number): string {
  if (typeof value === 'number') return String(value)
  const safe = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(value) ? `'${value}` : value
  return `"${safe.replaceAll('"', '""')}"`
}

/** A column moved one place up in the file. */
export function movedUp(columns: readonly CsvColumn[], column: CsvColumn): CsvColumn[] {
  const at = columns.indexOf(column)
  if (at <= 0) return [...columns]
  const moved = [...columns]
  moved.splice(at - 1, 2, column, columns[at - 1]!)
  return moved
}

/** A column taken in, at the end, or left out; the last one stays. */
export function toggled(columns: readonly CsvColumn[], column: CsvColumn): CsvColumn[] {
  if (!columns.includes(column)) return [...columns, column]
  return columns.length === 1 ? [...columns] : columns.filter((one) => one !== column)
}
