// A price list as a table: by rule, colour and the day from which each price holds.

import { compareText } from '../log/order'
import type { Day, Farm } from '../crop/nouns'
import type { Bunch, BuyerID, ChannelID, Price, Sales } from '../crop/sale_nouns'

/** Whose list: every buyer's of a channel, or one buyer's own. */
export type ListOf = { readonly channel: ChannelID } | { readonly buyer: BuyerID }

export interface PriceRow {
  readonly price: Price
  /** The one of its colour that holds on the day asked about; one that was replaced is past. */
  readonly state: 'holds' | 'past' | 'ahead'
}

export interface RuleTable {
  /** undefined where the rule was deleted. */
  readonly bunch: Bunch | undefined
  readonly rows: readonly PriceRow[]
}

export function pricesOf(sales: Sales, of: ListOf): Price[] {
  return [...sales.prices.values()].filter((p) => ('buyer' in of ? p.buyer === of.buyer : p.buyer === '' && p.channel === of.channel))
}

/** By the rules' names, each by colour and day; any colour's first. */
export function priceTables(farm: Pick<Farm, 'sales' | 'colours'>, of: ListOf, day: Day): RuleTable[] {
  const rules = new Map<string, Price[]>()
  for (const price of pricesOf(farm.sales, of)) rules.set(price.bunch, [...rules.get(price.bunch) ?? [], price])
  const colour = (p: Price) => (p.colour === '' ? '' : farm.colours.get(p.colour)?.name ?? p.colour)
  return [...rules].map(([id, prices]) => {
    const sorted = prices.sort((a, b) => colour(a).localeCompare(colour(b)) || compareText(a.from, b.from) || compareText(a.id, b.id))
    return { bunch: farm.sales.bunches.get(id as Bunch['id']), rows: sorted.map((price) => ({ price, state: stateOf(price, sorted, day) })) }
  }).sort((a, b) => (a.bunch?.name ?? '').localeCompare(b.bunch?.name ?? ''))
}

function stateOf(price: Price, all: readonly Price[], day: Day): PriceRow['state'] {
  if (price.from > day) return 'ahead'
  return all.some((one) => one.colour === price.colour && one.from > price.from && one.from <= day) ? 'past' : 'holds'
}
