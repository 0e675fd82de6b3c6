// What is safe to offer as a file for a spreadsheet.

import type { Farm } from '../crop/nouns'
import { weekCode } from '../crop/week'
import { csvText } from '../ui/csv'
import { inUnit } from '../ui/lengths'
import { typedAmount } from '../ui/money'
import type { WeekOffer, WeekOffers } from './weeks_offers'
import type { PriceOf } from './weeks_price'

/** Words of the file, the same in every language. */
const columns = ['week', 'from', 'to', 'colour', 'bunch', 'grade', 'length_from', 'length_unit', 'bunches', 'stems_per_bunch', 'stems']
const priceColumns = ['price', 'currency']

/** RFC 4180; amounts have the locale's point or comma. An empty colour is whatever colours are left over. */
export function weeksCsv(farm: Farm, weeks: readonly WeekOffers[], locale: string, priceOf: PriceOf | undefined): string {
  const rows = weeks.flatMap((week) => week.offers.map((offer) => [...cellsOf(farm, week, offer), ...priceCells(farm, week, offer, locale, priceOf)]))
  return csvText(priceOf ? [...columns, ...priceColumns] : columns, rows)
}

function cellsOf(farm: Farm, { from, to }: WeekOffers, { colour, rule, bunches, stems }: WeekOffer): (string | number)[] {
  const named = colour === '' ? '' : farm.colours.get(colour)?.name ?? colour
  const length = rule.length === 0 ? ['', ''] : [inUnit(rule.length, farm.unit), farm.unit]
  return [weekCode(from), from, to, named, rule.name, rule.grade, ...length, bunches, rule.stems, stems]
}

function priceCells(farm: Farm, { from }: WeekOffers, offer: WeekOffer, locale: string, priceOf: PriceOf | undefined): string[] {
  if (!priceOf) return []
  const price = priceOf(offer, from)
  return price === undefined ? ['ask', ''] : [typedAmount(price, locale), farm.sales.terms.currency]
}
