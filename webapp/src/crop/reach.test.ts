import { expect, it } from 'vitest'
import { reachOf } from './reach'

it.each<[string, number[], number, number]>([
  ['as far as any number of a measured bed that can hold it', [1, 70, 40], 30_000, 70],
  ['to the last place that the bed’s length can hold, where one is a slip', [1, 70, 9_999], 30_000, 70],
  ['to the very end of the length', [1, 600, 601], 30_000, 600],
  ['to the slip, where nothing lies within the length', [40, 50], 1_000, 50],
  ['as far as any number of a bed of unknown length', [1, 2, 30, 90], 0, 90],
  ['to what stands before a gap that no bed has', [1, 2, 30, 9_999], 0, 30],
  ['before the first of several that lie far out', [3, 400, 9_999], 0, 3],
  ['to a lone number, whatever it is', [9_999], 0, 9_999],
  ['to a second plant some way off', [1, 103], 0, 103],
  ['nowhere where nothing stands', [], 0, 0],
])('a bed is drawn %s', (_, numbers, length, reach) => {
  expect(reachOf(numbers, length)).toBe(reach)
})
