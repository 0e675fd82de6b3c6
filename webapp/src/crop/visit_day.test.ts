import { describe, expect, it } from 'vitest'
import type { BedID, Day, PlantingID, Season } from './nouns'
import { bedWith, farmWith, plantingWith } from './testing/nouns'
import { dayProblem, flushOf } from './visit_day'

const season = 2026 as Season

describe('the flush of a visit', () => {
  const bed = bedWith({ cutBack: new Map([[season, '2026-07-10' as Day]]) })
  it.each([['2026-07-09', 'spring'], ['2026-07-10', 'fall'], ['2026-09-01', 'fall']])('on %s is %s', (on, flush) => {
    expect(flushOf(bed, season, on as Day)).toBe(flush)
  })

  it('is spring where the bed was never cut back this season', () => {
    expect(flushOf(bed, 2025 as Season, '2025-09-01' as Day)).toBe('spring')
  })
})

describe('the date of what was cut', () => {
  const plantings = ([['a', 'b1', '2024-10-01'], ['c', 'b1', '2025-04-01'], ['d', 'b2', '']] as const)
    .map(([id, bed, planted]) => plantingWith({ id: id as PlantingID, bed: bed as BedID, planted: planted as Day }))
  it.each([
    ['today', 'b1', '2026-06-03', undefined],
    ['earlier', 'b1', '2025-06-03', undefined],
    ['tomorrow', 'b1', '2026-06-04', 'future'],
    ['before anything was planted', 'b1', '2024-09-30', 'before_planting'],
    ['on the day of the first planting', 'b1', '2024-10-01', undefined],
    ['in a bed whose planting day nobody knows', 'b2', '2020-01-01', undefined],
    ['left empty', 'b1', '', 'unknown'],
    ['on a day that there is not', 'b1', '2026-02-30', 'unknown'],
  ])('%s', (_, bed, date, problem) => {
    expect(dayProblem(farmWith({ plantings }), bed as BedID, date, '2026-06-03' as Day)).toBe(problem)
  })
})
