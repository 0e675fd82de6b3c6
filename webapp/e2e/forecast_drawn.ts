// A shed's answer about what is to come, made up and drawn by a seed: a flush of some weeks, and a smaller one in fall.

import { Random } from '../proxy/random'
import { addDays, daysBetween } from '../src/crop/day'
import { weekdayOf } from '../src/crop/due'
import type { ColourID, Day, Grade, Season, StockID } from '../src/crop/nouns'
import { weekOf } from '../src/crop/week'
import { gradesLowToHigh, unpackDraws } from '../src/forecast/draws'
import type { ForecastAnswer, ForecastWeek, PackedDraws, ScoredWeek } from '../src/forecast/forecast'
import { rangeOf, stemsOfWeek } from '../src/forecast/sums'
import { DrawsPacker } from '../src/forecast/testing/draws_packer'

interface Shares {
  readonly [name: string]: number
}

const shares = {
  grades: { out: 0.1, second: 0.2, first: 0.4, extra: 0.3 } satisfies Record<Grade, number>,
  lengths: [0.1, 0.3, 0.35, 0.25],
}
const lengths = [0, 400, 500, 600]

/** Mean stems by week, from the week of the day on. */
export const flushAndFall = [70, 260, 440, 380, 190, 80, 20, 4, 0, 0, 0, 0, 30, 60, 40, 0]

export interface Drawn {
  readonly asof: Day
  readonly colours: Shares
  readonly means?: readonly number[]
  readonly scored?: readonly ScoredWeek[]
  readonly stock?: string
  readonly timing?: Pick<ForecastAnswer, 'season_shift' | 'warmth' | 'silent'>
  readonly seed?: number
}

export function forecastDrawn({ asof, colours, means = flushAndFall, scored = [], stock, timing = {}, seed = 1 }: Drawn): ForecastAnswer {
  const from = addDays(asof, 1)
  const monday = addDays(from, 1 - weekdayOf(from))
  const weeks = means.map((_, week) => addDays(monday, 7 * week))
  const draws = packed(new Random(seed), from, weeks, colours, means)
  return {
    arrival: 1, asof, season: Number(asof.slice(0, 4)) as Season, weeks: weeksOf(draws), draws, ...timing,
    first_cuts: stock === undefined ? [] : [{ stock: stock as StockID, flush: 'fall', q05: addDays(monday, 78), q50: addDays(monday, 84), q95: addDays(monday, 97), chance: 0.86 }],
    scores: {
      weeks: scored, crps: mean(scored.map(({ crps }) => crps)), again: null, year: null, pooled: null,
      inside: scored.filter(({ came, q05, q95 }) => q05 <= came && came <= q95).length, n: scored.length,
    },
  }
}

/** Weeks before a day as they would have been forecast, one of them missed. */
export function scoredWeeks(before: Day, n: number): ScoredWeek[] {
  const monday = addDays(before, 1 - weekdayOf(before))
  return Array.from({ length: n }, (_, i) => {
    const first = addDays(monday, 7 * (i - n))
    const came = Math.round(300 * Math.exp(-(((i - n / 2) / (n / 4)) ** 2)))
    const said = i === 6 ? came * 0.5 : came * (0.86 + 0.05 * (i % 5)) + 3
    return {
      week: weekCalled(first), first, came, mean: said, q05: said * 0.72 - 2, q95: said * 1.36 + 4, crps: Math.abs(said - came) * 0.6 + 2,
      again: i === 0 ? null : 40 + 5 * (i % 3), year: i < n / 2 ? null : 30, pooled: 62,
    }
  })
}

function packed(random: Random, from: Day, weeks: readonly Day[], colours: Shares, means: readonly number[]): PackedDraws {
  const n = 200
  const packer = new DrawsPacker(weeks.length, Object.keys(colours).length, lengths.length)
  for (let draw = 0; draw < n; draw++) {
    const [size, shift] = [Math.exp(0.22 * normal(random)), 0.5 * normal(random)]
    packer.draw((week) => {
      const stemsNow = size * shifted(means, week - shift)
      const counts: number[] = []
      for (const colour of Object.values(colours)) {
        for (const grade of gradesLowToHigh) for (const length of shares.lengths) counts.push(Math.round(stemsNow * colour * shares.grades[grade] * length + random.next() - 0.5))
      }
      return counts.map((count) => Math.max(0, count))
    }, (week) => Math.max(0, daysBetween(weeks[week]!, from)))
  }
  return { n, from, weeks, colours: Object.keys(colours) as (ColourID | '')[], lengths, coded: packer.coded() }
}

function weeksOf(answer: PackedDraws): ForecastWeek[] {
  const draws = unpackDraws(answer)
  return draws.weeks.map((first, week) => {
    const of = (colours: readonly (ColourID | '')[]) => rangeOf(stemsOfWeek(draws, week, { colours, grade: '' }, draws.from))
    return { week: weekCalled(first), first, total: of([]), grades: {} as ForecastWeek['grades'], colours: Object.fromEntries(draws.colours.map((one) => [one, of([one])])) as ForecastWeek['colours'] }
  })
}

function weekCalled(monday: Day): string {
  const { year, number } = weekOf(monday)
  return `${year}-W${String(number).padStart(2, '0')}`
}

function shifted(means: readonly number[], at: number): number {
  const low = Math.floor(at)
  return (means[low] ?? 0) + (at - low) * ((means[low + 1] ?? 0) - (means[low] ?? 0))
}

function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next())
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, one) => sum + one, 0) / values.length
}
