import { describe, expect, it } from 'vitest'
import { weatherFacts } from '../crop/ahead_facts'
import type { Day } from '../crop/nouns'
import { farmSaid } from '../crop/testing/said'
import { dayRows, nextMissing, untold } from './weather_days'

const day = (text: string) => `2026-05-${text}` as Day
const told = (...days: readonly string[]) => farmSaid(...days.map((one) => weatherFacts(day(one), { min: 1, max: 2 })), weatherFacts(day('21'), { min: 9, max: 2 })).ahead
const today = day('28')

describe('the days', () => {
  it('are told newest first, with what is missing between and until yesterday', () => {
    const rows = dayRows(told('20', '24', '25'), today).map((row) => (row.kind === 'gap' ? [row.kind, row.first, row.last, row.days] : [row.kind, row.day]))
    expect(rows).toEqual([
      ['gap', day('26'), day('27'), 2], ['told', day('25')], ['told', day('24')], ['gap', day('22'), day('23'), 2], ['wrong', day('21')], ['told', day('20')],
    ])
  })

  it('have no gap where only today is missing', () => {
    expect(dayRows(told('27', '26', '25', '24', '23', '22'), today).some(({ kind }) => kind === 'gap')).toBe(false)
  })
})

describe('the day that is typed next', () => {
  it('is yesterday before today', () => expect(untold(told('20'), today)).toEqual([day('27'), today]))
  it('goes on in the same gap', () => expect(nextMissing(told('20', '24'), day('22'), today)).toBe(day('23')))
  it('is today behind yesterday, and none once both are told', () => {
    expect(nextMissing(told('26'), day('27'), today)).toBe(today)
    expect(nextMissing(told('27'), today, today)).toBeUndefined()
  })
  it('is yesterday or today behind the end of a gap', () => expect(nextMissing(told('20', '24'), day('23'), today)).toBe(day('27')))
})
