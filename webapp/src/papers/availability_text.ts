// What is on offer as a message to send: plain text, in English or Spanish.

import { type Farm, openEnd } from '../crop/nouns'
import type { Speaker } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { amount } from '../ui/money'
import { sellerName } from '../ui/seller'
import { type Offer, spansOf } from './availability'
import type { PriceOf } from './availability_price'

export interface TextOptions {
  readonly bunch: number
  readonly currency: string
  /** undefined is without prices. */
  readonly priceOf: PriceOf | undefined
}

/**
 * A line for each class of which there is at least a bunch, under its day; days one after the other that have the same
 * are said once, since a phone shows few lines and a text message is paid for by its length.
 */
export function availabilityText(farm: Farm, offers: readonly Offer[], say: Speaker, options: TextOptions): string {
  const spans = spansOf(offers.filter(({ bunches }) => bunches > 0), (offer) => lineOf(farm, offer, say, options))
  const parts = spans.map(({ from, to, said }) => `${from === to ? say.day(from) : `${say.day(from)} – ${say.day(to)}`}\n${said}`)
  const seller = sellerName(farm)
  const head = seller === '' ? say.t('availability.text.head') : say.t('availability.text.head.farm', { farm: seller })
  const bunch = say.t('availability.text.bunch', { n: options.bunch })
  const once = parts.length > 1 ? [say.t('availability.once')] : []
  return [`${head} ${bunch}`, ...(parts.length === 0 ? [say.t('availability.text.none')] : parts), ...once].join('\n\n')
}

function lineOf(farm: Farm, offer: Offer, say: Speaker, options: TextOptions): string {
  const colour = offer.colour === '' ? say.t('papers.colour.untold') : farm.colours.get(offer.colour)?.name ?? say.t('papers.colour.untold')
  const grade = offer.grade === '' ? [] : [say.t(`grade.${offer.grade}`)]
  const what = [colour, ...grade, ...lengthSaid(farm, offer, say)].join(', ')
  return `${what}: ${offer.bunches}` + priceSaid(offer, say, options)
}

function priceSaid(offer: Offer, say: Speaker, { priceOf, currency }: TextOptions): string {
  if (!priceOf) return ''
  const price = priceOf(offer)
  return ` · ${price === undefined ? say.t('availability.ask') : amount(price, currency, say.locale)}`
}

function lengthSaid(farm: Farm, { length }: Offer, say: Speaker): string[] {
  if (length.hi === 0) return []
  const lo = inUnit(length.lo, farm.unit)
  const open = length.hi === openEnd
  if (farm.unit === 'in') return [say.t(open ? 'length.in.open' : 'length.in', { lo })]
  return [say.t(open ? 'length.cm.open' : 'length.cm', { lo })]
}
