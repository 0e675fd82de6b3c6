// What a bunch goes for by the price lists, and whether that is below a channel's floor. Mirrors
// internal/selling/price.go.

import { compareText } from '../log/order'
import type { ColourID, Day, ToldGrade } from './nouns'
import type { Buyer, BuyerID, BunchID, Cents, Channel, ChannelID, Line, Price, PriceID, Sales } from './sale_nouns'

/** What the price lists say of a bunch. */
export interface Quote {
  /** undefined where no colour has a price. */
  readonly price: PriceID | undefined
  readonly cents: Cents
  /** The colours' prices differ, and this is the lowest. */
  readonly several: boolean
  /** Colours that have no price. */
  readonly without: readonly (ColourID | '')[]
}

/**
 * Looks a bunch up in the price lists for a day: a buyer's own price stands before the channel's, a colour's before any
 * colour's, and of those the one that began last and not after the day. Of several colours it is the lowest, since the
 * bunch may be tied of that one alone.
 */
export function priceOf(sales: Sales, buyer: BuyerID, bunch: BunchID | '', colours: readonly ColourID[], due: Day): Quote {
  let best: Price | undefined
  let several = false
  const without: (ColourID | '')[] = []
  for (const colour of bunch === '' ? [] : colours.length === 0 ? ['' as const] : colours) {
    const price = priceOfColour(sales, buyer, buyerOf(sales, buyer)?.channel ?? '', bunch, colour, due)
    if (!price) {
      without.push(colour)
      continue
    }
    several ||= best !== undefined && price.cents !== best.cents
    if (!best || price.cents < best.cents) best = price
  }
  return { price: best?.id, cents: best?.cents ?? (0 as Cents), several, without }
}

/** The same for whoever buys by way of a channel: undefined where its list has no price of the bunch in the colour. */
export function channelPrice(sales: Sales, channel: ChannelID, bunch: BunchID, colour: ColourID | '', due: Day): Cents | undefined {
  return priceOfColour(sales, '', channel, bunch, colour, due)?.cents
}

function priceOfColour(sales: Sales, buyer: BuyerID | '', channel: ChannelID | '', bunch: BunchID | '', colour: ColourID | '', due: Day): Price | undefined {
  const rank = (p: Price) => priceRank(p, buyer, channel, colour)
  let best: Price | undefined
  for (const p of sales.prices.values()) {
    if (p.bunch !== bunch || p.from > due || p.cents === 0 || rank(p) < 0) continue
    // Two that begin on one day missed each other: the lower is taken, so that every device says the same.
    if (!best || (rank(p) - rank(best) || compareText(p.from, best.from) || best.cents - p.cents || compareText(best.id, p.id)) > 0) best = p
  }
  return best
}

/** How much a price is a buyer's and a colour's own; below zero it is not theirs. */
function priceRank(p: Price, buyer: BuyerID | '', channel: ChannelID | '', colour: ColourID | ''): number {
  const own = buyer !== '' && p.buyer === buyer
  if (!own && (p.buyer !== '' || p.channel !== channel || channel === '')) return -1
  if (p.colour !== '' && p.colour !== colour) return -1
  return (own ? 2 : 0) + (p.colour === '' ? 0 : 1)
}

/** A buyer, also where it was deleted. */
export function buyerOf(sales: Sales, id: BuyerID): Buyer | undefined {
  return sales.buyers.get(id) ?? sales.goneBuyers.get(id)
}

/** The channel of a buyer, also where either was deleted. */
export function channelOf(sales: Sales, buyer: BuyerID): Channel | undefined {
  const id = buyerOf(sales, buyer)?.channel
  return id === undefined ? undefined : sales.channels.get(id) ?? sales.goneChannels.get(id)
}

/** What a bunch of a line goes for: as agreed, or else as the lists have it on the day. 0 is not priced. */
export function linePrice(sales: Sales, buyer: BuyerID, line: Pick<Line, 'price' | 'bunch' | 'colours'>, due: Day): Cents {
  return line.price > 0 ? line.price : priceOf(sales, buyer, line.bunch, line.colours, due).cents
}

/** The least that a stem of a bunch may go for in a channel, by the least grade that the bunch may hold; 0 is none. */
export function floorOf(channel: Pick<Channel, 'floor'>, least: ToldGrade): Cents {
  return channel.floor.get(least || 'second') ?? (0 as Cents)
}

/** Whether a bunch of so many stems goes for less than a floor: in whole cents, since a price a stem may have parts of one. */
export function belowFloor(price: Cents, floor: Cents, stems: number): boolean {
  return price < floor * stems
}
