// A bunch in few words.

import { expect, test } from 'vitest'
import { lotCell } from '../crop/lots'
import { farmSaid } from '../crop/testing/said'
import { drawnBriefly } from './packing_words'
import { lotOf } from './testing/shop'

const lots = ['2026-06-01', '2026-06-02', '2026-06-03', '2026-06-04', '2026-06-05'].map((day) => lotCell(lotOf(day)))

test.each([
  ['all are named where they are few', [3, 1, 4, 2], 4, ''],
  ['of many those with most, and the rest counted', [1, 5, 2, 1, 3], 3, ', and 2 of 2 other lots'],
])('%s', (_, stems, named, rest) => {
  const text = drawnBriefly(farmSaid([]), stems.map((n, i) => [lots[i]!, n] as const))
  expect(text.split(' of ').length - 1).toBe(named + (rest === '' ? 0 : 1))
  expect(text.endsWith(rest)).toBe(true)
  expect(text.startsWith(`${Math.max(...stems)} of`)).toBe(true)
})
