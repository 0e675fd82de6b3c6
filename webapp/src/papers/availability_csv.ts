// What is on offer as a file for a spreadsheet, in the columns that whoever gets it wants.

import type { Farm } from '../crop/nouns'
import { openEnd } from '../crop/nouns'
import { csvText } from '../ui/csv'
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

export function availabilityCsv(farm: Farm, offers: readonly Offer[], options: CsvOptions): string {
  return csvText(options.columns, offers.map((offer) => options.columns.map((column) => valueOf(farm, offer, column, options))))
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
