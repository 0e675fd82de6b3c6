// What a bunch that is offered costs in a channel, for an owner alone.

import { meets, strictestFirst } from '../crop/line_needs'
import { channelPrice } from '../crop/price_of'
import type { Cents, ChannelID, Sales } from '../crop/sale_nouns'
import { compareText } from '../log/order'
import type { Offer } from './availability'

/** Says the price of a bunch; undefined where there is none yet, so that it must be asked for. */
export type PriceOf = (offer: Offer) => Cents | undefined

/** The price of the most demanding bunch of so many stems that the offer meets and that the channel's list has. */
export function offeredPrice(sales: Sales, channel: ChannelID, offer: Offer, stems: number): Cents | undefined {
  const fit = [...sales.bunches.values()].filter((rule) => rule.stems === stems && meets(rule, offer.grade, offer.length))
  fit.sort((a, b) => strictestFirst(a, b) || compareText(a.id, b.id))
  for (const { id } of fit) {
    const cents = channelPrice(sales, channel, id, offer.colour, offer.day)
    if (cents !== undefined) return cents
  }
  return undefined
}
