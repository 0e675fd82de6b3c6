import { expect, test } from 'vitest'
import { momentName } from './messages'

const now = new Date(2026, 10, 29).getTime()

test.each([
  ['of this year without it', new Date(2026, 5, 3, 14, 5), false],
  ['of a year before with it', new Date(2024, 5, 3, 14, 5), true],
])('a moment is told, %s', (_, moment, withYear) => {
  const told = momentName(moment.getTime(), now)
  expect(told).toContain('05')
  expect(told.includes(String(moment.getFullYear()))).toBe(withYear)
})
