import { describe, expect, it } from 'vitest'
import { mostWorked } from '../crop/money_nouns'
import { clockOf, minutesSince, parseMinutes, timed } from './timer'

const since = Date.UTC(2026, 4, 28, 14, 5)
const after = (minutes: number) => since + minutes * 60_000

describe('a timer that is stopped', () => {
  it.each([
    ['at once, by mistake', 0.4, 'nothing'],
    ['after half a minute', 0.5, { minutes: 1 }],
    ['after some time, rounded to the minute', 94.6, { minutes: 95 }],
    ['after twelve hours', 720, { minutes: 720 }],
    ['when it was forgotten', 720.1, 'ask'],
    ['days later', 3 * 24 * 60, 'ask'],
    ['once the clock was set back', -1, 'ask'],
  ])('%s', (_, minutes, want) => expect(timed({ since }, after(minutes))).toEqual(want))
})

it('shows whole minutes, and none before its start', () => {
  expect([minutesSince({ since }, after(61.9)), minutesSince({ since }, after(-5))]).toEqual([61, 0])
  expect([clockOf(5), clockOf(760)]).toEqual(['0:05', '12:40'])
})

describe('minutes that are typed', () => {
  it.each([
    ['90', 90], ['1:30', 90], ['1 h 30', 90], ['1h', 60], ['0:05', 5], [' 12 ', 12], ['24:00', 1440], ['1440', 1440],
    ['', undefined], ['0', undefined], ['0:00', undefined], ['1:75', undefined], ['1441', undefined], ['24:01', undefined], ['1.5', undefined], ['-5', undefined], ['an hour', undefined],
  ])('%s', (typed, want) => expect(parseMinutes(typed, mostWorked)).toBe(want))
})
