// What a bunch that is offered costs in a channel: by the price list, for an owner alone.

import { type Day, gradesHighToLow, type ToldGrade } from '../crop/nouns'
import type { Bunch, Cents, ChannelID, Price, Sales } from '../crop/sale_nouns'
import type { Offer } from './availability'

/** The price of the most demanding rule of so many stems that the offer meets; undefined where the list has none. */
export function offeredPrice(sales: Sales, channel: ChannelID, offer: Offer, stems: number): Cents | undefined {
  const fit = [...sales.prices.values()].flatMap((price) => {
    const rule = sales.bunches.get(price.bunch)
    return rule && rule.stems === stems && holds(price, channel, offer) && meets(offer, rule) ? [{ price, rule }] : []
  })
  // The same rule for the same colour class has the price that began last.
  fit.sort((a, b) => rank(b.rule.grade) - rank(a.rule.grade) || b.rule.length - a.rule.length
    || Number(b.price.colour !== '') - Number(a.price.colour !== '') || compareDays(b.price.from, a.price.from) || (a.price.id < b.price.id ? -1 : 1))
  return fit[0]?.price.cents
}

function holds(price: Price, channel: ChannelID, offer: Offer): boolean {
  return price.channel === channel && price.buyer === '' && price.from <= offer.day && (price.colour === '' || price.colour === offer.colour)
}

function meets(offer: Offer, rule: Bunch): boolean {
  return rank(offer.grade) >= rank(rule.grade) && offer.length.lo >= rule.length
}

function rank(grade: ToldGrade): number {
  const at = grade === '' ? -1 : gradesHighToLow.indexOf(grade)
  return at < 0 ? 0 : gradesHighToLow.length - 1 - at
}

function compareDays(a: Day | '', b: Day | ''): number {
  return a < b ? -1 : a > b ? 1 : 0
}
