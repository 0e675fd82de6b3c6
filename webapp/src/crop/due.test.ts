import { expect, it } from 'vitest'
import { mondayOf } from './due'
import type { Day } from './nouns'

it.each([['2026-06-04', '2026-06-01'], ['2026-06-01', '2026-06-01'], ['2026-06-07', '2026-06-01']])('the week of %s begins on %s', (day, monday) => {
  expect(mondayOf(day as Day)).toBe(monday)
})
