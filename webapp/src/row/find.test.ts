import { describe, expect, it } from 'vitest'
import type { BedID, Day, Plant, PlantID, PlantingID } from '../crop/nouns'
import { farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { findPlants } from './find'

const day = '2026-06-03' as Day
const here = 'here' as BedID

function plant(code: string, line = 0, number = 0, bed = 'here', removed = ''): Plant {
  return plantWith({ id: code as PlantID, code, planting: bed as PlantingID, line, number, removed: removed as Day | '' })
}

const plants = [
  plant('R4K 7M', 2, 14), plant('R4K 7N', 2, 13), plant('7M R4', 1, 1), plant('2-13', 3, 3), plant('R4K 9X', 1, 2, 'other'),
  plant('GON E1', 2, 16, 'here', '2026-05-01'), plant('Rosé 1', 4, 1),
]
const plantings = ['here', 'other'].map((bed) => plantingWith({ id: bed as PlantingID, bed: bed as BedID }))
const farm = farmWith({ plants, plantings })

describe('what somebody types finds', () => {
  const cases: [string, string, string[]][] = [
    ['a code, whatever its case and spaces', 'r4k7m', ['R4K 7M']],
    ['a code typed with a dash', 'R4K-7M', ['R4K 7M']],
    ['every code that begins so, this bed first', 'r4k', ['R4K 7M', 'R4K 7N', 'R4K 9X']],
    ['codes that begin so before those that hold it', '7m', ['7M R4', 'R4K 7M']],
    ['a place with a space', '2 14', ['R4K 7M']],
    ['a place with a dash', '2-14', ['R4K 7M']],
    ['a place with a point', ' 2.14 ', ['R4K 7M']],
    ['the code before the place that reads the same', '2-13', ['2-13', 'R4K 7N']],
    ['no place of another bed', '1 2', []],
    ['no plant that is gone', 'gone1', []],
    ['a letter with its accent', 'ROSÉ', ['Rosé 1']],
    ['nothing where only spaces were typed', '  ', []],
  ]
  it.each(cases)('%s', (_, typed, codes) => {
    expect(findPlants(farm, here, day, typed).map(({ code }) => code)).toEqual(codes)
  })
})
