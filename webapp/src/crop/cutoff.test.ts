import { expect, it } from 'vitest'
import { cutoff } from './cutoff'
import { dayOf } from './day'
import type { Day } from './nouns'

it.each([
  ['never where none is named', 0, '', undefined],
  ['two days before, in the evening', 2, '18:30', '2026-06-02 18:30'],
  ['on the day itself', 0, '05:00', '2026-06-04 05:00'],
  ['at the end of the day where no time is named', 1, '', '2026-06-03 23:59'],
])('orders close %s', (_, cutoffDays, cutoffTime, want) => {
  const at = cutoff({ cutoffDays, cutoffTime }, '2026-06-04' as Day)
  const moment = at === undefined ? undefined : new Date(at)
  expect(moment && `${dayOf(moment)} ${moment.toTimeString().slice(0, 5)}`).toBe(want)
})
