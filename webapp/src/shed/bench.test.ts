import { describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, Planting, PlantingID } from '../crop/nouns'
import { dateProblem } from './bench'
import { monthDay } from './SeasonStart'

const farm = {
  plantings: new Map([
    ['a', { bed: 'b1', planted: '2024-10-01' }], ['c', { bed: 'b1', planted: '2025-04-01' }], ['d', { bed: 'b2', planted: '' }],
  ] as unknown as [PlantingID, Planting][]),
} as unknown as Farm

describe('the date of a bench total', () => {
  it.each([
    ['today', 'b1', '2026-06-03', undefined],
    ['earlier', 'b1', '2025-06-03', undefined],
    ['tomorrow', 'b1', '2026-06-04', 'future'],
    ['before anything was planted', 'b1', '2024-09-30', 'before_planting'],
    ['on the day of the first planting', 'b1', '2024-10-01', undefined],
    ['in a bed whose planting day nobody knows', 'b2', '2020-01-01', undefined],
    ['left empty', 'b1', '', 'unknown'],
  ])('%s', (_, bed, date, problem) => {
    expect(dateProblem(farm, bed as BedID, date, '2026-06-03' as Day)).toBe(problem)
  })
})

it.each([[1, 31, '01-31'], [2, 31, '02-28'], [4, 31, '04-30'], [10, 5, '10-05']])('month %d day %d starts a season on %s', (month, day, start) => {
  expect(monthDay(month, day)).toBe(start)
})
