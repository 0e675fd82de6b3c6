// What is on offer as a message to send: plain text, in English or Spanish.

import { addDays } from '../crop/day'
import { type Day, type Farm, openEnd } from '../crop/nouns'
import type { Speaker } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { amount } from '../ui/money'
import type { Offer } from './availability'
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
  const spans = spansOf([...new Set(offers.map((offer) => offer.day))], (day) =>
    offers.filter((offer) => offer.day === day && offer.bunches > 0).map((offer) => lineOf(farm, offer, say, options)).join('\n'))
  const parts = spans.filter(({ lines }) => lines !== '').map(({ from, to, lines }) => `${from === to ? say.day(from) : `${say.day(from)} – ${say.day(to)}`}\n${lines}`)
  const head = farm.name === '' ? say.t('availability.text.head') : say.t('availability.text.head.farm', { farm: farm.name })
  const bunch = say.t('availability.text.bunch', { n: options.bunch })
  return [`${head} ${bunch}`, ...(parts.length === 0 ? [say.t('availability.text.none')] : parts)].join('\n\n')
}

interface Span {
  readonly from: Day
  to: Day
  readonly lines: string
}

/** The days with what is said of them; a day without offers parts those around it. */
function spansOf(days: readonly Day[], linesOf: (day: Day) => string): Span[] {
  const spans: Span[] = []
  for (const day of days) {
    const [lines, last] = [linesOf(day), spans.at(-1)]
    if (last?.lines === lines && addDays(last.to, 1) === day) last.to = day
    else spans.push({ from: day, to: day, lines })
  }
  return spans
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
