import { expect, it } from 'vitest'
import type { BedID, Day, PlantID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { mapOf } from './bed_map'

const day = '2026-06-03' as Day
const plant = (id: string, line: number, number: number, told = {}) => plantWith({ id: id as PlantID, line, number, ...told })
const farmOf = (lines: number, ...plants: ReturnType<typeof plant>[]) =>
  farmWith({ beds: [bedWith({ lines })], plantings: [plantingWith()], plants })

it('reaches as far as the plants and the bed’s own lines do, gaps drawn below what stands', () => {
  const farm = farmOf(3, plant('a', 1, 4), plant('b', 2, 9), plant('c', 1, 2, { removed: day }), plant('d', 0, 0), plant('e', 7, 7, { bed: 'other' as BedID }))
  const map = mapOf(farm, 'b' as BedID, day)
  expect(map).toMatchObject({ lines: 3, length: 9 })
  expect(map?.spots.map(({ plant: id, gone }) => `${id} ${gone}`)).toEqual(['c true', 'a false', 'b false'])
})

it('shows more lines than the bed is said to have where plants stand in them', () => {
  expect(mapOf(farmOf(1, plant('a', 3, 1)), 'b' as BedID, day)?.lines).toBe(3)
})

it('is as long as before where one plant’s number is too far along, which is counted', () => {
  const plants = [plant('a', 1, 4), plant('b', 2, 9)]
  const map = mapOf(farmOf(3, ...plants), 'b' as BedID, day)
  expect(mapOf(farmOf(3, ...plants, plant('slip', 2, 9_999)), 'b' as BedID, day)).toEqual({ ...map, far: 1 })
})

it('is none where nothing has a place', () => {
  expect(mapOf(farmOf(3, plant('a', 0, 0)), 'b' as BedID, day)).toBeUndefined()
})
