// What a promise would bring, as the price list has it on the day; only owners see it.

import type { ColourID, Day, Farm } from '../crop/nouns'
import { priceOf } from '../crop/price_of'
import type { BunchID, BuyerID, Cents } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'

interface PromisedPriceProps {
  readonly farm: Farm
  readonly buyer: BuyerID
  readonly bunch: BunchID | ''
  readonly colours: readonly ColourID[]
  readonly day: Day
  readonly stems: number
}

export function PromisedPrice({ farm: { sales }, buyer, bunch, colours, day, stems }: PromisedPriceProps) {
  const rule = sales.bunches.get(bunch as BunchID)
  const { cents } = priceOf(sales, buyer, bunch, colours, day)
  if (!rule || cents === 0) return <p class="small">{t(rule ? 'promise.price.none' : 'promise.price.no_bunch')}</p>
  const bunches = Math.floor(stems / rule.stems)
  const { currency } = sales.terms
  return <p class="small">{t('promise.price', { n: bunches, price: amount(cents, currency), sum: amount(bunches * cents as Cents, currency) })}</p>
}
