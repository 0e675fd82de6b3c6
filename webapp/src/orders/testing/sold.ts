// A small farm that sells, for the tests of orders: one channel, one rule, two buyers. Mondays are 1, 8 and 15 June 2026.

import type { Fact } from '../../log/change'
import { colourFacts } from '../../crop/facts'
import type { ColourID, Day, Millimetres } from '../../crop/nouns'
import { bunchFacts, buyerFacts, channelFacts, floorFacts, lineFacts, orderFacts, priceFacts, standingFacts } from '../../crop/sale_facts'
import type { Bunch, BuyerID, Cents, Channel, ChannelID, Line, LineID, Order, OrderID, Price, PriceID, StandingID, StandingOrder, Weekdays } from '../../crop/sale_nouns'
import { colourWith } from '../../crop/testing/nouns'

export const day = (text: string) => text as Day
export const channel: Channel = {
  id: 'florists' as ChannelID, name: 'Florists', kind: 'wholesale', floor: new Map(), commission: 1250, fee: 600 as Cents, buyerPays: true, cutoffDays: 2,
  cutoffTime: '18:00', days: '14' as Weekdays,
}
export const ten: Bunch = { id: 'ten' as Bunch['id'], name: 'Ten first', stems: 10, grade: 'first', length: 400 as Millimetres }
export const studio = 'studio' as BuyerID
export const corner = 'corner' as BuyerID

export function lineWith(part: Partial<Line> = {}): Line {
  return {
    id: 'line' as LineID, order: 'order' as OrderID, standing: '', bunch: ten.id, bunches: 4, stems: 10, grade: 'first', length: 400 as Millimetres, colours: [],
    whole: false, exact: false, price: 520 as Cents, ...part,
  }
}

export function orderWith(part: Partial<Order> = {}): Order {
  return { id: 'order' as OrderID, buyer: studio, due: day('2026-06-04'), taken: day('2026-06-01'), note: '', ...part }
}

export function standingWith(part: Partial<StandingOrder> = {}): StandingOrder {
  return { id: 'weekly' as StandingID, buyer: studio, from: day('2026-06-01'), until: '', days: '1' as Weekdays, every: 1, skips: [], note: '', ...part }
}

export function priceWith(id: string, cents: number, part: Partial<Price> = {}): Price {
  return { id: id as PriceID, channel: channel.id, buyer: '', colour: '', bunch: ten.id, from: '', cents: cents as Cents, ...part }
}

/** Everything but orders. */
export const ground: readonly Fact[] = [
  ...['ember', 'garnet'].flatMap((name) => colourFacts(colourWith({ id: name as ColourID, name }))),
  ...channelFacts(channel.id, channel), ...floorFacts(channel.id, 'first', 50 as Cents), ...bunchFacts(ten),
  ...buyerFacts(studio, { name: 'Studio Nord', channel: channel.id }), ...buyerFacts(corner, { name: 'Córner', channel: channel.id }),
  ...priceFacts(priceWith('spring', 560)), ...priceFacts(priceWith('june', 500, { from: day('2026-06-08') })),
  ...priceFacts(priceWith('garnet', 480, { colour: 'garnet' as ColourID })),
]

export const written: readonly Fact[] = [...orderFacts(orderWith()), ...lineFacts(lineWith())]
export const standing: readonly Fact[] = [
  ...standingFacts(standingWith()), ...lineFacts(lineWith({ id: 'template' as LineID, order: '', standing: 'weekly' as StandingID, price: 0 as Cents })),
]
