import { expect, it } from 'vitest'
import { lotCell } from './lots'
import { isThere, oneBunchOf } from './one_bunch'
import type { LineID, PackedID } from './sale_nouns'
import { farmSaid } from './testing/said'
import { lineWith, lotOf, orderSaid, packedSaid } from './testing/sold'

const due = '2026-06-04'
const [old, young] = [lotOf('b', '2026-06-01'), lotOf('b', '2026-06-03')]
const order = orderSaid('or', due, [lineWith()])

it.each([
  ['nothing where nothing is packed', [order, packedSaid('pa', 'li', due, 0, [])], undefined],
  ['a bunch of the youngest stems', [order, packedSaid('pa', 'li', due, 2, [[old, 10], [young, 10]])], { packed: 'pa', stems: [[lotCell(young), 10]] }],
  ['a bunch over two lots', [order, packedSaid('pa', 'li', due, 2, [[old, 16], [young, 4]])], { packed: 'pa', stems: [[lotCell(young), 4], [lotCell(old), 6]] }],
  ['all stems with the last bunch', [order, packedSaid('pa', 'li', due, 1, [[old, 13]])], { packed: 'pa', stems: [[lotCell(old), 13]] }],
  ['a bunch of which nobody told the lots', [order, packedSaid('pa', 'li', due, 2, [])], { packed: 'pa', stems: [] }],
  ['an even part where nobody orders the line any more', [packedSaid('pa', 'li', due, 2, [[old, 21]])], { packed: 'pa', stems: [[lotCell(old), 10]] }],
  ['of what another device packed', [order, packedSaid('pa', 'li', due, 0, []), packedSaid('pb', 'li', due, 2, [[old, 20]])], { packed: 'pb', stems: [[lotCell(old), 10]] }],
])('taken back is %s', (_, said, want) => {
  expect(oneBunchOf(farmSaid(...said).sales, 'li' as LineID)).toEqual(want)
})

it('a remembered bunch is there as long as its bunch and its stems are', () => {
  const { sales } = farmSaid(order, packedSaid('pa', 'li', due, 1, [[old, 10]]))
  const of = (stems: number, packed = 'pa') => ({ packed: packed as PackedID, stems: [[lotCell(old), stems] as const] })
  expect([of(10), of(11), of(10, 'pb')].map((one) => isThere(sales, one))).toEqual([true, false, false])
})
