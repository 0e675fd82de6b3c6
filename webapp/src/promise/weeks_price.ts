// What an offered bunch costs in a channel, for an owner alone.

import { channelPrice } from '../crop/price_of'
import type { Day } from '../crop/nouns'
import type { Cents, ChannelID, Sales } from '../crop/sale_nouns'
import type { WeekOffer } from './weeks_offers'

/** The price of a bunch on a day; undefined where there is none yet, so that it must be asked for. */
export type PriceOf = (offer: WeekOffer, day: Day) => Cents | undefined

/** undefined is without prices: none was asked for, or the channel has been deleted since. */
export function pricesIn(sales: Sales, channel: ChannelID | ''): PriceOf | undefined {
  if (channel === '' || !sales.channels.has(channel)) return undefined
  return ({ rule, colour }, day) => (rule.id === '' ? undefined : channelPrice(sales, channel, rule.id, colour, day))
}
