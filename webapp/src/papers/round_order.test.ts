import { expect, it } from 'vitest'
import type { BuyerID, OrderID } from '../crop/sale_nouns'
import type { Delivery } from './day_papers'
import { day } from './testing/sold'
import { inRound, movedStop, type RoundOrder } from './round_order'

/** "abb": stops of buyers by name, each an order of its own. */
function stops(buyers: string): Delivery[] {
  return [...buyers].map((buyer, i) => ({ order: `${buyer}${i}` as OrderID, buyer: buyer as BuyerID, day, note: '', lines: [], bunches: 1 }))
}

const order = (text: string) => [...text] as unknown as RoundOrder
const told = (deliveries: readonly Delivery[]) => deliveries.map(({ buyer }) => buyer).join('')

it.each([
  ['by name where nobody moved any', 'abc', '', 'abc'],
  ['as they were moved', 'abc', 'cab', 'cab'],
  ['new buyers after those that have a place', 'abcd', 'dc', 'dcab'],
  ['both stops of a buyer side by side', 'abab', 'b', 'bbaa'],
])('the round goes %s', (_, buyers, kept, want) => {
  expect(told(inRound(stops(buyers), order(kept)))).toBe(want)
})

it.each([
  ['up', 'abc', '', 'c', -1, 'acb', 'acb'],
  ['down', 'abc', '', 'a', 1, 'bac', 'bac'],
  ['up at the top, which changes nothing', 'abc', 'abc', 'a', -1, 'abc', 'abc'],
  ['up past all stops of the buyer before', 'aab', '', 'b', -1, 'baa', 'ba'],
  ['up on a day without some buyers, who keep their places', 'bd', 'abcd', 'd', -1, 'db', 'adcb'],
  ['down where one has no place yet', 'abc', 'b', 'b', 1, 'abc', 'abc'],
] as const)('a stop goes %s', (_, buyers, kept, buyer, by, day, want) => {
  const next = movedStop(stops(buyers), order(kept), buyer as BuyerID, by)
  expect(next.join('')).toBe(want)
  expect(told(inRound(stops(buyers), next))).toBe(day)
})
