// What a delivery comes to.

import { channelKeeps } from '../crop/commission'
import type { Due } from '../crop/due'
import { channelOf, linePrice } from '../crop/price_of'
import type { Cents, Sales } from '../crop/sale_nouns'

export interface Total {
  readonly bunches: number
  readonly stems: number
  /** Of all lines that are priced, and the fee where the buyer pays it. */
  readonly cents: Cents
  /** The fee in it. */
  readonly fee: Cents
  /** What the channel keeps of the lines, bunch by bunch. */
  readonly kept: Cents
  /** Lines without a price. */
  readonly unpriced: number
}

export function totalOf(sales: Sales, due: Pick<Due, 'buyer' | 'lines' | 'day'>): Total {
  const channel = channelOf(sales, due.buyer)
  let [bunches, stems, lines, unpriced, kept] = [0, 0, 0, 0, 0]
  for (const line of due.lines) {
    const price = linePrice(sales, due.buyer, line, due.day)
    bunches += line.bunches
    stems += line.bunches * line.stems
    lines += line.bunches * price
    kept += line.bunches * channelKeeps(price, channel?.commission ?? 0)
    if (price === 0) unpriced++
  }
  const fee = channel?.buyerPays ? channel.fee : 0
  return { bunches, stems, unpriced, fee: fee as Cents, cents: (lines + fee) as Cents, kept: kept as Cents }
}
