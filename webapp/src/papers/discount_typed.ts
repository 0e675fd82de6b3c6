// A discount as it is typed for one invoice.

import { type Discount, discountOf } from '../crop/discount'
import type { Cents } from '../crop/sale_nouns'
import { parseAmount } from '../ui/money'

export type DiscountKind = 'percent' | 'amount'

export interface DiscountTyped {
  readonly kind: DiscountKind
  readonly text: string
}

/** Reads it; undefined where it is no number, and where it would leave nothing to pay for bunches that come to `goods`. */
export function readDiscount({ kind, text }: DiscountTyped, goods: Cents): Discount | undefined {
  const hundredths = parseAmount(text) // a percent has hundredths as an amount has cents
  if (hundredths === undefined || hundredths === 0 || kind === 'percent' && hundredths >= 10_000) return undefined
  const discount = kind === 'percent' ? { rate: hundredths as number, cents: 0 as Cents } : { rate: 0, cents: hundredths }
  return discountOf(discount, goods) < goods ? discount : undefined
}
