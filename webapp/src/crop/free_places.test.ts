import { expect, it } from 'vitest'
import { freePlaces } from './free_places'
import type { BedID, Day, Millimetres, PlantID } from './nouns'
import { bedWith, farmWith, plantingWith, plantWith } from './testing/nouns'

const b = 'b' as BedID
type Stands = readonly [line: number, number: number, removed?: string]

it.each<[string, { lines: number; length?: number }, readonly Stands[], number | undefined]>([
  ['are gaps along a line', { lines: 1 }, [[1, 1], [1, 4]], 2],
  ['are those at the end of a line that is shorter than another', { lines: 2 }, [[1, 1], [1, 2], [1, 3], [2, 1]], 2],
  ['are whole lines in which nothing stands', { lines: 3 }, [[1, 1], [1, 2]], 4],
  ['are where somebody stood', { lines: 1 }, [[1, 1], [1, 2, '2026-03-01'], [1, 3]], 1],
  ['are not there where two stand in one place', { lines: 1 }, [[1, 1], [1, 1]], 0],
  ['are not made by a slip in a number', { lines: 1, length: 2_000 }, [[1, 1], [1, 2], [1, 9_999]], 0],
  ['are untold in a bed in which nothing stands', { lines: 4 }, [], undefined],
  ['are untold where no plant has a place', { lines: 4 }, [[0, 0]], undefined],
])('free places %s', (_, { lines, length = 0 }, stand, want) => {
  const plants = stand.map(([line, number, removed = ''], i) => plantWith({ id: `p${i}` as PlantID, line, number, removed: removed as Day }))
  const farm = farmWith({ beds: [bedWith({ lines, length: length as Millimetres })], plantings: [plantingWith()], plants })
  expect(freePlaces(farm).get(b)).toBe(want)
})
