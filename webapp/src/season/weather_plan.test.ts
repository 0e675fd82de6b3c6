import { describe, expect, it } from 'vitest'
import { weatherFacts } from '../crop/ahead_facts'
import type { DegreeUnit } from '../crop/ahead_nouns'
import type { Day } from '../crop/nouns'
import { farmSaid } from '../crop/testing/said'
import { celsiusOf, shownIn, weatherTyped } from './degrees'
import { planWeather, takingIn, weatherCsv } from './weather_plan'
import { readWeather } from './weather_sheet'

const today = '2026-05-28' as Day
const day = (text: string) => text as Day
const told = [weatherFacts(day('2026-05-01'), { min: 4, max: 15.5 }), weatherFacts(day('2026-05-02'), { min: 5, max: 16 }), weatherFacts(day('2026-05-03'), { min: 20, max: 2 })]
const file = 'date,tmin,tmax\n2026-05-01,4,15.5\n2026-05-02,5,17\n2026-05-03,2,20\n2026-05-04,-1.5,9\n'

function plan(text: string, unit: DegreeUnit = 'c') {
  return planWeather(readWeather(text), unit, farmSaid(...told).ahead, today)
}

describe('a weather file', () => {
  it('says before it is written what is new, what changes and what stands', () => {
    expect(plan(file)).toEqual({
      problems: [], same: 1, added: [['2026-05-04', { min: -1.5, max: 9 }]],
      changed: [
        { day: '2026-05-02', before: { min: 5, max: 16 }, after: { min: 5, max: 17 } },
        { day: '2026-05-03', before: { min: 20, max: 2 }, after: { min: 2, max: 20 } },
      ],
    })
  })

  it('is written at once, and undone to what stood before', () => {
    const { facts, undo } = takingIn(plan(file))
    const { weather, weatherWrong } = farmSaid(...told, facts).ahead
    expect([weather.size, weather.get(day('2026-05-04')), weatherWrong.size]).toEqual([4, { min: -1.5, max: 9 }, 0])
    const back = farmSaid(...told, facts, undo).ahead
    expect(back).toMatchObject({ weather: farmSaid(...told).ahead.weather, weatherWrong: farmSaid(...told).ahead.weatherWrong })
  })

  it.each<[string, string, DegreeUnit, unknown[]]>([
    ['with days ahead', 'date,tmin,tmax\n2026-05-29,1,2\n', 'c', [{ line: 2, column: 'date', kind: 'ahead', found: '2026-05-29', other: '' }]],
    ['in the other degrees', 'date,tmin,tmax\n2026-05-20,50,82\n', 'c', [{ line: 2, column: 'tmax', kind: 'unit', found: '82', other: '' }]],
    ['with a fault of its own beside', 'date,tmin,tmax\n2026-05-20,x,2\n2026-06-20,1,2\n', 'c', [
      { line: 2, column: 'tmin', kind: 'number', found: 'x', other: '' }, { line: 3, column: 'date', kind: 'ahead', found: '2026-06-20', other: '' },
    ]],
    ['in Fahrenheit', 'date,tmin,tmax\n2026-05-20,50,82\n', 'f', []],
  ])('%s is told what is wrong, and then nothing is taken', (_, text, unit, problems) => {
    const { added, changed, same, ...rest } = plan(text, unit)
    expect(rest).toEqual({ problems })
    expect(added.length + changed.length + same).toBe(problems.length > 0 ? 0 : 1)
  })

  it.each<DegreeUnit>(['c', 'f'])('that was saved in %s is taken in again as nothing new', (unit) => {
    const days = Array.from({ length: 500 }, (_, i) => weatherFacts(day(`2024-0${1 + i % 9}-${String(1 + i % 28).padStart(2, '0')}`), { min: -30 + i / 10, max: i / 10 })).flat()
    const { ahead } = farmSaid(days)
    const { problems, added, changed } = planWeather(readWeather(weatherCsv(ahead.weather, unit).slice(1)), unit, ahead, today)
    expect([problems.length, added.length, changed.length]).toEqual([0, 0, 0])
  })
})

describe('what is typed', () => {
  it.each<[DegreeUnit, string, string, unknown]>([
    ['c', '-1.5', '12', { min: -1.5, max: 12 }], ['c', '−1,5', '12', { min: -1.5, max: 12 }], ['f', '50', '68', { min: 10, max: 20 }],
    ['f', '31', '32', { min: -0.6, max: 0 }], ['c', '', '12', 'missing'], ['c', '1', ' ', 'missing'], ['c', '1-', '12', 'number'],
    ['c', '12', '1', 'above'], ['c', '1', '120', 'slip'], ['f', '1', '120', { min: -17.2, max: 48.9 }], ['f', '-140', '0', 'slip'],
  ])('in %s, %s and %s', (unit, low, high, want) => expect(weatherTyped(unit, low, high)).toEqual(want))

  it('in whole degrees Fahrenheit is shown as it was typed', () => {
    for (let degrees = -40; degrees <= 120; degrees++) expect(shownIn('f', celsiusOf('f', degrees))).toBe(degrees + 0)
  })
})
