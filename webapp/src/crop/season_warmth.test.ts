import { describe, expect, it } from 'vitest'
import { addDays } from './day'
import type { Calendar, Day, Season } from './nouns'
import { northernYear, springOf } from './season'
import { gapsAmong, leadOver, seasonSum, usualLead, type Weather, type WarmthRule } from './season_warmth'

const rule: WarmthRule = { lower: 10, upper: 30, method: 'average' }

/** Days from one on that are each worth so many degree-days; undefined is not told. */
function weather(first: string, worths: readonly (number | undefined)[]): Weather {
  return new Map(worths.flatMap((worth, i) => (worth === undefined ? [] : [[addDays(first as Day, i), { min: 10 + worth - 2, max: 10 + worth + 2 }] as const])))
}

function sum(first: string, worths: readonly (number | undefined)[], year: number, calendar: Calendar = northernYear) {
  return seasonSum(weather(first, worths), calendar, year as Season, rule)!
}

const times = (n: number, worth: number | undefined) => Array.from({ length: n }, () => worth)

describe('the sum of a season', () => {
  it('grows day by day from the first day told, and estimates what is missing between', () => {
    const { from, days } = sum('2026-04-01', [3, undefined, undefined, 6], 2026)
    expect(from).toBe(31)
    expect(days.map((day) => day.sum)).toEqual([3, 7, 12, 18])
    expect(days.map((day) => day.told)).toEqual([true, false, false, true])
  })

  it('counts days of the year alike in leap years', () => {
    expect(sum('2024-03-10', [1], 2024).from).toBe(sum('2026-03-10', [1], 2026).from)
  })

  it('holds only days of its season, and is none where none is told', () => {
    const all: Weather = new Map([...weather('2025-12-30', [5, 5]), ...weather('2026-01-01', [4])])
    expect(seasonSum(all, northernYear, 2026 as Season, rule)!.days.map((day) => day.sum)).toEqual([4])
    expect(seasonSum(all, northernYear, 2027 as Season, rule)).toBeUndefined()
    const southern = { start: '07-01', southern: true }
    expect(springOf(southern, 2026 as Season)).toBe('2026-09-01')
    expect(seasonSum(weather('2026-12-31', [3, 4]), southern, 2026 as Season, rule)!.days.map((day) => day.sum)).toEqual([3, 7])
  })
})

describe('how far a season is ahead', () => {
  const now = sum('2026-04-01', times(20, 6), 2026) // 120 by 20 April

  it.each([
    ['of a cooler one', sum('2025-04-01', times(60, 4), 2025), 10], // 120 on 30 April
    ['of one just like it', sum('2025-04-01', times(60, 6), 2025), 0],
    ['of a warmer one', sum('2025-04-01', times(60, 12), 2025), -10],
    ['of one of which less is told, from the first day that both tell of', sum('2025-04-11', times(60, 6), 2025), 0],
    ['of one that never came so far', sum('2025-04-01', times(60, 1), 2025), 'beyond'],
    ['of one with a short gap', sum('2025-04-01', [...times(5, 6), ...times(7, undefined), ...times(40, 6)], 2025), 0],
    ['of one with a long gap', sum('2025-04-01', [...times(5, 6), ...times(8, undefined), ...times(40, 6)], 2025), 'gaps'],
    ['of one told only later in the year', sum('2025-05-01', times(60, 6), 2025), 'apart'],
  ])('%s', (_, former, lead) => expect(leadOver(now, former)).toBe(lead))

  it('cannot be told before any warmth', () => {
    expect(leadOver(sum('2026-01-01', times(20, -5), 2026), sum('2025-01-01', times(90, 2), 2025))).toBe('cold')
  })

  it('is usually the middle of the former seasons that tell', () => {
    const formers = [4, 6, 12, 1].map((worth, i) => sum(`${2022 + i}-04-01`, times(60, worth), 2022 + i))
    expect(usualLead(now, formers)).toBe(0)
    expect(usualLead(now, formers.slice(3))).toBeUndefined()
  })
})

describe('gaps', () => {
  it('lie between told days, in whatever order these come', () => {
    expect(gapsAmong(['2026-04-05', '2026-04-01', '2026-04-02', '2026-04-09'] as Day[])).toEqual([
      { first: '2026-04-03', last: '2026-04-04', days: 2 }, { first: '2026-04-06', last: '2026-04-08', days: 3 },
    ])
    expect(gapsAmong([])).toEqual([])
  })
})
