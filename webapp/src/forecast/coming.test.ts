import { expect, it } from 'vitest'
import type { ColourID, Day } from '../crop/nouns'
import { comingOf } from './coming'
import { type Draws, unpackDraws } from './draws'
import { Random } from '../../proxy/random'
import { addRuns, runsOf } from './runs'
import { drawnSeason } from './testing/drawn_season'

const ember = 'ember' as ColourID
/** Of five stems one, three and five: nothing to round. */
const parts = [0, 0, 51, 153, 255, 255, 255]

/** One draw of four weeks, of one colour and length; each week as out, second, first, extra. */
const draws: Draws = {
  n: 1, from: '2026-05-26' as Day, weeks: ['2026-05-25', '2026-06-01', '2026-06-08', '2026-06-15'] as Day[], colours: [ember], lengths: [0],
  stems: Uint16Array.from([0, 0, 0, 0, 9, 5, 0, 10, 0, 0, 5, 0, 0, 0, 0, 0]), days: Uint8Array.from([...parts, ...parts, ...parts, ...parts]),
}

it('stems come by day as the parts of their week say, saleable ones alone, without idle weeks on both sides', () => {
  const coming = comingOf(draws)
  const { first, last, days, kinds } = coming
  expect({ first, last, days, grades: kinds.map(({ grade }) => grade) }).toEqual({ first: '2026-06-01', last: '2026-06-21', days: 14, grades: ['second', 'first', 'extra'] })
  // Each day and kind a pool of its own.
  const pools = Int32Array.from({ length: days * kinds.length }, (_, i) => i)
  const stems = new Int32Array(pools.length)
  addRuns(coming, 0, runsOf(coming, pools, [0, 1, 2], 0, days), stems)
  const ofKind = (kind: number) => Array.from({ length: days }, (_, day) => stems[day * kinds.length + kind]!).join(' ')
  expect([0, 1, 2].map(ofKind)).toEqual(['0 0 1 2 2 0 0 0 0 0 0 0 0 0', '0 0 0 0 0 0 0 0 0 1 2 2 0 0', '0 0 2 4 4 0 0 0 0 0 0 0 0 0'])
})

it('days of one pool are summed up in one run a week, those of none left out', () => {
  const coming = comingOf(draws)
  const pools = Int32Array.from({ length: coming.days * coming.kinds.length }, (_, i) => (Math.floor(i / coming.kinds.length) < 3 ? -1 : 0))
  const runs = runsOf(coming, pools, [0], -5, 8)
  const sum = new Int32Array(1)
  addRuns(coming, 0, runs, sum)
  expect([runs.pool.length, sum[0]]).toEqual([2, 4])
})

it('single stems of a kind fall to the days of their week as its parts say, in each draw and in all', () => {
  const some = { n: 200, first: '2026-06-01' as Day, weeks: 1, colours: [ember, ''] as const, lengths: [0, 400, 500, 600] }
  const drawn = unpackDraws(drawnSeason({ ...some, heaviest: 30, peak: 0, chance: new Random(7) }))
  const coming = comingOf(drawn)
  const runs = runsOf(coming, Int32Array.from({ length: 7 * coming.kinds.length }, (_, i) => Math.floor(i / coming.kinds.length)), [...coming.kinds.keys()], 0, 6)
  const all = new Int32Array(7)
  for (let draw = 0; draw < drawn.n; draw++) {
    const byDay = new Int32Array(7)
    addRuns(coming, draw, runs, byDay)
    const sum = byDay.reduce((one, other) => one + other)
    byDay.forEach((stems, day) => { all[day]! += stems })
    expect(Math.abs(byDay[0]! - (sum * 36) / 255), `draw ${draw}`).toBeLessThan(3)
  }
  const sum = all.reduce((one, other) => one + other)
  for (const stems of all) expect(Math.abs(stems / sum - 1 / 7)).toBeLessThan(0.02)
})
