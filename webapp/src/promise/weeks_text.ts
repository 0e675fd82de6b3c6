// What is safe to offer as a message to send: plain text, in English or Spanish.

import type { Farm } from '../crop/nouns'
import { weekName } from '../forecast/forecast_words'
import type { Speaker } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { amount } from '../ui/money'
import { sellerName } from '../ui/seller'
import type { WeekOffer, WeekOffers } from './weeks_offers'
import type { PriceOf } from './weeks_price'

/** A line for each offer under its week; weeks of which nothing is safe are left out. */
export function weeksText(farm: Farm, weeks: readonly WeekOffers[], say: Speaker, priceOf: PriceOf | undefined): string {
  const seller = sellerName(farm)
  const head = seller === '' ? say.t('weeks.text.head') : say.t('weeks.text.head.farm', { farm: seller })
  const parts = weeks.filter(({ offers }) => offers.length > 0).map(({ from, to, offers }) =>
    [weekName(from, say.locale, to), ...offers.map((offer) => lineOf(farm, offer, say) + priceSaid(farm, priceOf?.(offer, from), say, priceOf !== undefined))].join('\n'))
  return [head, ...parts.length === 0 ? [say.t('weeks.text.none')] : parts, say.t('weeks.text.foot')].join('\n\n')
}

function lineOf(farm: Farm, { colour, rule, bunches }: WeekOffer, say: Speaker): string {
  const named = colour === '' ? say.t('weeks.mixed') : farm.colours.get(colour)?.name ?? say.t('papers.colour.untold')
  const grade = rule.grade === '' ? [] : [say.t(`grade.${rule.grade}`)]
  const length = rule.length === 0 ? [] : [say.t(farm.unit === 'in' ? 'length.in' : 'length.cm', { lo: inUnit(rule.length, farm.unit) })]
  return say.t('weeks.text.line', { what: [named, ...grade, ...length].join(', '), bunches: say.t('papers.bunches', { n: bunches }), stems: rule.stems })
}

function priceSaid(farm: Farm, price: ReturnType<PriceOf>, say: Speaker, priced: boolean): string {
  if (!priced) return ''
  return ` · ${price === undefined ? say.t('availability.ask') : amount(price, farm.sales.terms.currency, say.locale)}`
}
