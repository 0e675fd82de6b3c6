import { expect, it } from 'vitest'
import type { Day } from './nouns'
import { weekOf } from './week'

// By hand from the calendar: 1 January 2026 is a Thursday, and 2026 has 53 weeks.
it.each([
  ['2026-06-01', 2026, 23], ['2026-06-07', 2026, 23], ['2026-06-08', 2026, 24], ['2026-01-01', 2026, 1], ['2025-12-29', 2026, 1],
  ['2026-12-31', 2026, 53], ['2027-01-03', 2026, 53], ['2027-01-04', 2027, 1], ['2024-12-30', 2025, 1], ['2023-01-01', 2022, 52],
])('%s lies in week %i/%i', (day, year, number) => expect(weekOf(day as Day)).toEqual({ year, number }))
