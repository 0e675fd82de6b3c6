import { expect, it } from 'vitest'
import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'
import { daysWithinATap, whenChoices } from './ask_when'

const monday = '2026-06-01' as Day
const wednesday = addDays(monday, 2)
const weeks = Array.from({ length: 12 }, (_, i) => addDays(monday, 7 * i))

it('ten days from today on and eight weeks are within a tap, the other weeks in a list', () => {
  const { days, ...whole } = whenChoices(weeks, wednesday)
  expect([days[0], days.at(-1), days.length]).toEqual([wednesday, addDays(wednesday, 9), 10])
  expect(whole).toEqual({ weeks: weeks.slice(0, 8), later: weeks.slice(8) })
})

it('while the season is far off its first days are, and a week that is over never', () => {
  expect(whenChoices(weeks, addDays(monday, -30)).days[0]).toBe(monday)
  expect(whenChoices(weeks, addDays(monday, 7)).weeks[0]).toBe(weeks[1])
  expect(whenChoices([], wednesday)).toMatchObject({ weeks: [], later: [] })
})

it('the days of those are each once, from today on', () => {
  const days = daysWithinATap(whenChoices(weeks, wednesday), wednesday)
  expect([days[0], days.at(-1), days.length]).toEqual([wednesday, addDays(weeks[7]!, 6), 8 * 7 - 2])
})
