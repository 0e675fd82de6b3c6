// What a delivery comes to.

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
  /** What the channel keeps of the lines, rounded to a whole cent. */
  readonly kept: Cents
  /** Lines without a price. */
  readonly unpriced: number
}

export function totalOf(sales: Sales, due: Pick<Due, 'buyer' | 'lines' | 'day'>): Total {
  let [bunches, stems, lines, unpriced] = [0, 0, 0, 0]
  for (const line of due.lines) {
    const price = linePrice(sales, due.buyer, line, due.day)
    bunches += line.bunches
    stems += line.bunches * line.stems
    lines += line.bunches * price
    if (price === 0) unpriced++
  }
  const channel = channelOf(sales, due.buyer)
  const fee = channel?.buyerPays ? channel.fee : 0
  return { bunches, stems, unpriced, fee: fee as Cents, cents: (lines + fee) as Cents, kept: shareOf(lines as Cents, channel?.commission ?? 0) }
}

/** A share in hundredths of a percent, rounded half up in whole numbers. */
export function shareOf(cents: Cents, hundredths: number): Cents {
  return Number((BigInt(cents) * BigInt(hundredths) + 5_000n) / 10_000n) as Cents
}
