// What is on offer as a message to send: plain text, in English or Spanish.

import { type Farm, openEnd } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import type { Speaker } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { amount } from '../ui/money'
import type { Offer } from './availability'

export interface TextOptions {
  readonly bunch: number
  readonly currency: string
  readonly priceOf: (offer: Offer) => Cents | undefined
}

/** A line for each class of which there is at least a bunch, under its day. */
export function availabilityText(farm: Farm, offers: readonly Offer[], say: Speaker, options: TextOptions): string {
  const days = [...new Set(offers.map((offer) => offer.day))]
  const parts = days.flatMap((day) => {
    const lines = offers.filter((offer) => offer.day === day && offer.bunches > 0).map((offer) => lineOf(farm, offer, say, options))
    return lines.length === 0 ? [] : [`${say.day(day)}\n${lines.join('\n')}`]
  })
  const head = farm.name === '' ? say.t('availability.text.head') : say.t('availability.text.head.farm', { farm: farm.name })
  const bunch = say.t('availability.text.bunch', { n: options.bunch })
  return [`${head} ${bunch}`, ...(parts.length === 0 ? [say.t('availability.text.none')] : parts)].join('\n\n')
}

function lineOf(farm: Farm, offer: Offer, say: Speaker, options: TextOptions): string {
  const colour = offer.colour === '' ? say.t('papers.colour.untold') : farm.colours.get(offer.colour)?.name ?? say.t('papers.colour.untold')
  const grade = offer.grade === '' ? [] : [say.t(`grade.${offer.grade}`)]
  const price = options.priceOf(offer)
  const each = price === undefined ? '' : ` · ${amount(price, options.currency, say.locale)}`
  return `• ${[colour, ...grade, ...lengthSaid(farm, offer, say)].join(', ')}: ${say.t('availability.bunches', { n: offer.bunches })}${each}`
}

function lengthSaid(farm: Farm, { length }: Offer, say: Speaker): string[] {
  if (length.hi === 0) return []
  const lo = inUnit(length.lo, farm.unit)
  const open = length.hi === openEnd
  if (farm.unit === 'in') return [say.t(open ? 'length.in.open' : 'length.in', { lo })]
  return [say.t(open ? 'length.cm.open' : 'length.cm', { lo })]
}
