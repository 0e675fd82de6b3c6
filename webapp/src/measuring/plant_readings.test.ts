import { expect, it } from 'vitest'
import type { Day, PlantID, ReadingID } from '../crop/nouns'
import { farmWith, readingWith } from '../crop/testing/nouns'
import { newestReading, readingsOfPlant } from './plant_readings'

it('readings of a plant come by day, and of one day the one that was recorded last comes first', () => {
  const reading = (id: string, date: string, at: number) => readingWith({ id: id as ReadingID, date: date as Day, at })
  const farm = farmWith({ readings: [reading('c', '2026-06-01', 10), reading('a', '2026-06-01', 30), reading('d', '2026-06-03', 5), reading('b', '2026-06-01', 20)] })
  expect(readingsOfPlant(farm, 'p' as PlantID).map(({ id }) => id)).toEqual(['d', 'a', 'b', 'c'])
  expect(newestReading(farm, 'p' as PlantID)?.id).toBe('d')
})
