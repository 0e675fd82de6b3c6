import { describe, expect, it } from 'vitest'
import type { ColourID, Day } from '../crop/nouns'
import type { Draws } from './draws'
import { oddsOf, everyStem, rangeOf, stemsByDay, stemsByWeek, stemsOfWeek, together } from './sums'

const [monday, next] = ['2026-05-25', '2026-06-01'] as [Day, Day]
const [ember, untold] = ['ember' as ColourID, ''] as const

/** Two draws of two weeks: stems by colour as out, second, first, extra. */
function drawn(weeks: readonly (readonly (readonly number[])[])[][], days: readonly number[]): Draws {
  return {
    n: weeks.length, from: '2026-05-27' as Day, weeks: [monday, next], colours: [ember, untold], lengths: [0],
    stems: Uint16Array.from(weeks.flat(3)), days: Uint8Array.from(weeks.flatMap(() => [...days, 36, 73, 109, 146, 182, 219, 255])),
  }
}

const draws = drawn(
  [[[[1, 2, 3, 4], [0, 0, 5, 0]], [[0, 0, 10, 20], [0, 0, 0, 0]]],
    [[[0, 1, 0, 1], [2, 2, 2, 2]], [[0, 0, 2, 2], [7, 0, 0, 0]]]],
  [0, 0, 0, 51, 102, 204, 255],
)

describe('sums over draws', () => {
  it.each([
    ['of all', everyStem, [[15, 10], [30, 11]]],
    ['of a colour', { colours: [ember], grade: '' as const }, [[10, 2], [30, 4]]],
    ['of stems whose colour nobody told', { colours: [untold], grade: '' as const }, [[5, 8], [0, 7]]],
    ['of a grade and better', { colours: [], grade: 'first' as const }, [[12, 5], [30, 4]]],
    ['of a colour of a grade', { colours: [ember], grade: 'extra' as const }, [[4, 1], [20, 2]]],
  ] as const)('are %s', (_, which, expected) => {
    expect(stemsByWeek(draws, which, monday).map((week) => [...week])).toEqual(expected)
  })

  it('are of stems long enough', () => {
    const kinds = [[1, 0, 0], [2, 3, 4], [5, 6, 7], [8, 9, 10]] // by grade, each by length
    const long: Draws = { n: 1, from: monday, weeks: [monday], colours: [ember], lengths: [0, 400, 500], stems: Uint16Array.from(kinds.flat()), days: new Uint8Array(7) }
    const of = (grade: 'second' | 'extra' | '', length: number) => stemsOfWeek(long, 0, { colours: [], grade, length }, monday)[0]
    expect([of('', 0), of('second', 400), of('second', 410), of('extra', 500), of('extra', 600)]).toEqual([55, 39, 21, 10, 0])
  })

  it.each([
    ['2026-05-28', [15, 10]],
    // By hand: of 15 stems 51/255 are cut by Thursday's end, 3; of 10 two.
    ['2026-05-29', [12, 8]],
    ['2026-06-01', [0, 0]],
    ['2026-07-01', [0, 0]],
  ])('begin on %s', (from, expected) => {
    expect([...stemsOfWeek(draws, 0, everyStem, from as Day)]).toEqual(expected)
  })

  it('of the last week begin with its last day', () => {
    expect([...stemsOfWeek(draws, 1, everyStem, '2026-06-07' as Day)]).toEqual([30 - Math.round(30 * 219 / 255), 11 - Math.round(11 * 219 / 255)])
    expect([...stemsOfWeek(draws, 1, everyStem, '2026-06-08' as Day)]).toEqual([0, 0])
  })

  it('fall to the days of a week without a stem lost', () => {
    const days = stemsByDay(draws, 0, everyStem)
    expect(days.map((day) => day[0])).toEqual([0, 0, 0, 3, 3, 6, 3])
    expect([...together(days, 2)]).toEqual([15, 10])
  })
})

describe('what is said of draws', () => {
  // R: quantile(c(1, 2, 4, 8), c(.05, .25, .5, .75, .95)) by the formula of type 7, by hand.
  it('are their mean and quantiles', () => {
    const { mean, q05, q25, q50, q75, q95 } = rangeOf([8, 1, 4, 2])
    expect([mean, q25, q50, q75]).toEqual([3.75, 1.75, 3, 5])
    expect(q05).toBeCloseTo(1.15)
    expect(q95).toBeCloseTo(7.4)
  })

  it.each<[string, number[], number]>([['none', [], 0], ['one', [7], 7]])('is finite of %s', (_, values, all) => {
    expect(Object.values(rangeOf(values))).toEqual([all, all, all, all, all, all])
  })

  it('is a chance', () => {
    expect([oddsOf([1, 2, 3, 4], 3), oddsOf([1], 2), oddsOf([], 1)]).toEqual([0.5, 0, 0])
  })
})
