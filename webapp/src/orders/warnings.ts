// What is worth a word before an order is taken; none of it keeps an order from being taken.

import { cutoff } from '../crop/cutoff'
import { dayOf } from '../crop/day'
import { holds } from '../crop/due'
import type { ColourID, Day, Grade } from '../crop/nouns'
import { belowFloor, channelOf, floorOf, linePrice, priceOf } from '../crop/price_of'
import type { Buyer, BuyerID, Cents, Channel, Line, Order, Price, Sales } from '../crop/sale_nouns'

export type OrderWarning =
  | { readonly kind: 'past' | 'weekday' | 'gone' | 'no_channel' }
  | { readonly kind: 'late'; /** ms since 1970 */ readonly closed: number }

export function orderWarnings(sales: Sales, buyer: BuyerID, day: Day, today: Day, nowMs: number): OrderWarning[] {
  const found: OrderWarning[] = []
  const channel = channelOf(sales, buyer)
  const closed = channel && day >= today ? cutoff(channel, day) : undefined
  if (sales.goneBuyers.has(buyer)) found.push({ kind: 'gone' })
  if (!channel) found.push({ kind: 'no_channel' })
  if (day < today) found.push({ kind: 'past' })
  if (closed !== undefined && nowMs > closed) found.push({ kind: 'late', closed })
  if (channel && missesDays(channel, day)) found.push({ kind: 'weekday' })
  return found
}

export function missesDays(channel: Pick<Channel, 'days'>, day: Day): boolean {
  return channel.days !== '' && !holds(channel.days, day)
}

/** Whether an order was taken on a day after its channel had closed. */
export function wasLate(channel: Channel | undefined, order: Pick<Order, 'due' | 'taken'>): boolean {
  const closed = channel && cutoff(channel, order.due)
  return closed !== undefined && order.taken !== '' && order.taken > dayOf(new Date(closed))
}

export type LineWarning =
  | { readonly kind: 'unpriced' }
  | { readonly kind: 'floor'; readonly price: Cents; readonly floor: Cents; readonly stems: number; readonly grade: Grade }
  | { readonly kind: 'several'; readonly cents: Cents }
  | { readonly kind: 'without'; readonly colours: readonly ColourID[] }

/** Of a line's price, for who may know it. */
export function lineWarnings(sales: Sales, buyer: BuyerID, line: Pick<Line, 'price' | 'bunch' | 'colours' | 'grade' | 'stems'>, day: Day): LineWarning[] {
  const price = linePrice(sales, buyer, line, day)
  if (price === 0) return [{ kind: 'unpriced' }]
  const found: LineWarning[] = []
  if (line.price === 0) {
    const quote = priceOf(sales, buyer, line.bunch, line.colours, day)
    if (quote.several) found.push({ kind: 'several', cents: quote.cents })
    const without = quote.without.flatMap((id) => (id === '' ? [] : [id]))
    if (without.length > 0) found.push({ kind: 'without', colours: without })
  }
  const channel = channelOf(sales, buyer)
  const floor = channel && floorOf(channel, line.grade)
  if (floor && belowFloor(price, floor, line.stems)) found.push({ kind: 'floor', price, floor, stems: line.stems, grade: line.grade || 'second' })
  return found
}

/** Grades whose floor no price of a channel reaches, so that nothing of them could be sold in it, with the best price. */
export function floorsAboveAll(sales: Sales, channel: Pick<Channel, 'id' | 'floor'>): { readonly grade: Grade; readonly floor: Cents; readonly best: Price; readonly stems: number }[] {
  const prices = [...sales.prices.values()].filter((p) => p.cents > 0 && inChannel(sales.buyers.get(p.buyer as BuyerID), p, channel.id))
  return [...channel.floor].flatMap(([grade, floor]) => {
    let best: { readonly price: Price; readonly stems: number } | undefined
    for (const price of prices) {
      const bunch = sales.bunches.get(price.bunch)
      // A stem of a better grade may stand in for a lesser.
      if (!bunch || rank(bunch.grade || 'second') > rank(grade)) continue
      if (!best || price.cents * best.stems > best.price.cents * bunch.stems) best = { price, stems: bunch.stems }
    }
    return best && belowFloor(best.price.cents, floor, best.stems) ? [{ grade, floor, best: best.price, stems: best.stems }] : []
  })
}

function inChannel(buyer: Buyer | undefined, price: Price, channel: Channel['id']): boolean {
  return price.buyer === '' ? price.channel === channel : buyer?.channel === channel
}

function rank(grade: Grade): number {
  return ['out', 'second', 'first', 'extra'].indexOf(grade)
}
