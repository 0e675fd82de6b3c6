import { expect, it } from 'vitest'
import type { Cents } from '../crop/sale_nouns'
import { type DiscountKind, readDiscount } from './discount_typed'

it.each([
  ['percent', '10', { rate: 1000, cents: 0 }],
  ['percent', '7,25', { rate: 725, cents: 0 }],
  ['percent', '100', undefined],
  ['percent', '0', undefined],
  ['percent', 'a tenth', undefined],
  ['amount', '2.50', { rate: 0, cents: 250 }],
  ['amount', '20.00', undefined],
  ['amount', '19.99', { rate: 0, cents: 1999 }],
  ['amount', '-1', undefined],
  ['amount', '', undefined],
] as const)('%s %s of 20.00', (kind: DiscountKind, text, want) => {
  expect(readDiscount({ kind, text }, 2000 as Cents)).toEqual(want)
})
