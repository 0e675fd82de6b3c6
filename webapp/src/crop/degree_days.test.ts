import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { WarmMethod } from './ahead_nouns'
import { degreeDays } from './degree_days'

/** A CSV of numbers in testdata/reference, each row by its columns' names. */
function table(name: string): Record<string, number>[] {
  const text = readFileSync(join(import.meta.dirname, '../../../testdata/reference', name), 'utf8')
  const [head = [], ...rows] = text.trim().split(/\r?\n/).map((line) => line.split(','))
  return rows.map((cells) => Object.fromEntries(head.map((column, i) => [column, Number(cells[i])])))
}

// Zalom et al. 1983, table 7 (Fahrenheit, two decimals), with each of the six ways in which a day can lie about two thresholds.
describe('the sine, by the published table', () => {
  it.each(table('zalom1983_table7.csv'))('case $case, $tmin_F to $tmax_F', (row) => {
    const got = degreeDays({ min: row['tmin_F']!, max: row['tmax_F']! }, { lower: row['lower_F']!, upper: row['upper_F']! }, 'sine')
    expect(Math.abs(got - row['single_sine']!)).toBeLessThanOrEqual(0.005000001)
    expect(Math.abs(got - row['single_sine_quad']!)).toBeLessThanOrEqual(5e-7)
  })
})

// McMaster and Wilhelm 1997, table 1, method 1 (Celsius, base 0).
describe('the average, by the published table', () => {
  it.each(table('mcmaster1997_table1.csv'))('$tmin_C to $tmax_C', (row) => {
    const got = degreeDays({ min: row['tmin_C']!, max: row['tmax_C']! }, { lower: row['lower_C']!, upper: Infinity }, 'average')
    expect(got).toBeCloseTo(row['gdd_method1']!, 12)
  })
})

// Worked examples of extension pages and arithmetic on them, in testdata/reference/TRADE.md; the same as Go's.
describe('worked days', () => {
  it.each<[string, number, number, number, number, WarmMethod, number]>([
    ['a mean of 64 over a base of 53', 64, 64, 53, Infinity, 'average', 11],
    ['64 and 62 over a base of 50', 62, 64, 50, Infinity, 'average', 13],
    ['70 and 40 over a base of 50, on average', 40, 70, 50, Infinity, 'average', 5],
    ['70 and 40 over a base of 50, by the sine', 40, 70, 50, Infinity, 'sine', 7.5424],
    ['58 and 40 over a base of 50, on average', 40, 58, 50, Infinity, 'average', 0],
    ['58 and 40 over a base of 50, by the sine', 40, 58, 50, Infinity, 'sine', 2.3825],
    ['90 and 50 between 50 and 86, on average', 50, 90, 50, 86, 'average', 18],
  ])('%s', (_, min, max, lower, upper, method, want) => {
    expect(Math.abs(degreeDays({ min, max }, { lower, upper }, method) - want)).toBeLessThanOrEqual(5e-5)
  })

  it('are worth nothing below the lower threshold and the whole band above the upper, by either method', () => {
    for (const method of ['sine', 'average'] as const) {
      expect(degreeDays({ min: -5, max: 9 }, { lower: 10, upper: 30 }, method)).toBe(0)
      expect(degreeDays({ min: 31, max: 40 }, { lower: 10, upper: 30 }, method)).toBeCloseTo(20, 12)
      expect(degreeDays({ min: 12, max: 12 }, { lower: 10, upper: 30 }, method)).toBeCloseTo(2, 12)
    }
  })
})
