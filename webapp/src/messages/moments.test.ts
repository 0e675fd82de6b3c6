import { expect, test } from 'vitest'
import { momentName } from './messages'

const now = new Date(2026, 5, 3, 14, 5).getTime()

test.each([
  ['of this year bears none', new Date(2026, 0, 2, 9, 30), false],
  ['of another year bears it: a phone may lie in a drawer for a winter', new Date(2024, 5, 3, 14, 5), true],
])('a moment %s', (_, at, hasYear) => {
  expect(/20\d\d/.test(momentName(at.getTime(), now))).toBe(hasYear)
})
