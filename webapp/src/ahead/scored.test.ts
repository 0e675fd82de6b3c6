import { describe, expect, it } from 'vitest'
import type { Day } from '../crop/nouns'
import type { ScoredWeek } from '../forecast/forecast'
import { besideRules, held, tooNarrow } from './scored'

function week(told: Partial<ScoredWeek>): ScoredWeek {
  return { week: '', first: '2026-05-25' as Day, came: 100, mean: 90, q05: 60, q95: 130, crps: 10, again: null, year: null, pooled: null, ...told }
}

describe('forecasts beside plain rules', () => {
  it.each<[string, Partial<ScoredWeek>[], unknown[]]>([
    ['are compared over the weeks of both alone', [{ crps: 10, again: 30 }, { crps: 90 }], [['again', 1, 67]]],
    ['are told to be worse where they were', [{ crps: 20, again: 10 }, { crps: 10, again: 10 }], [['again', 2, -50]]],
    ['stand beside each rule in its turn', [{ crps: 10, again: 20, year: 40, pooled: 10 }], [['again', 1, 50], ['year', 1, 75], ['pooled', 1, 0]]],
    ['have no share of a rule that never missed', [{ crps: 1, again: 0 }], [['again', 1, undefined]]],
    ['stand alone where no rule said anything', [{}], []],
  ])('%s', (_, weeks, expected) => {
    expect(besideRules(weeks.map(week)).map(({ rule, weeks: n, smaller }) => [rule, n, smaller])).toEqual(expected)
  })

  it.each([[60, true], [59, false], [130, true], [131, false]])('held %d stems: %s', (came, expected) => {
    expect(held(week({ came }))).toBe(expected)
  })

  // R: pbinom(10, 14, 0.9) = 0.0441, pbinom(11, 14, 0.9) = 0.1584 (from its formula, by hand).
  it.each([[14, 14, false], [11, 14, false], [10, 14, true], [0, 1, false], [0, 2, true], [0, 0, false], [470, 500, false], [430, 500, true]])(
    'held %d of %d weeks: ranges too narrow %s', (inside, n, expected) => {
      expect(tooNarrow(inside, n)).toBe(expected)
    })
})
