import { describe, expect, it } from 'vitest'
import type { LineNeed } from '../crop/line_needs'
import type { ColourID, Day, ToldGrade } from '../crop/nouns'
import { addDays } from '../crop/day'
import type { Draws } from './draws'
import { everyStem } from './sums'
import { salesOf } from '../crop/testing/cutting'
import { couldTake, isIn, toComeFrom, weeksAround, weeksThatMatter } from './to_come'

const monday = '2026-05-18' as Day
const ember = 'ember' as ColourID

/** A draw for each row: firsts of one colour by week. */
function drawn(...rows: readonly (readonly number[])[]): Draws {
  const weeks = rows[0]!.map((_, week) => addDays(monday, 7 * week))
  return {
    n: rows.length, from: monday, weeks, colours: [ember], lengths: [0], stems: Uint16Array.from(rows.flatMap((row) => row.flatMap((stems) => [0, 0, stems, 0]))),
    days: Uint8Array.from(rows.flatMap((row) => row.flatMap(() => [36, 73, 109, 146, 182, 219, 255]))),
  }
}

function need(on: string, stems: number, told: Partial<LineNeed> = {}): LineNeed {
  return { line: 'l', order: 'o', buyer: 'b', due: on, on, stems, grade: '', length: 0, colours: [], instead: [], ...told } as LineNeed
}

describe('what is to come', () => {
  const draws = drawn([10, 40, 20], [20, 80, 0])

  it('is summed within draws, and its heaviest week named', () => {
    const { total, heaviest, weeks } = toComeFrom(draws, everyStem, monday, [])
    expect([total.q05, total.q95, heaviest?.first, weeks.length]).toEqual([71.5, 98.5, '2026-05-25', 3])
  })

  it('begins with today: what is behind is in no week', () => {
    const { weeks, total } = toComeFrom(draws, everyStem, '2026-05-26' as Day, [])
    expect(weeks.map(({ first }) => first)).toEqual(['2026-05-25', '2026-06-01'])
    // By hand: of 40 and 80 stems 36/255 are cut on Monday, 6 and 11; with the last week 54 and 69.
    expect(total.mean).toBe(61.5)
  })

  it('stands beside what is promised of it', () => {
    const { weeks } = toComeFrom(draws, everyStem, monday, [need('2026-05-25', 30), need('2026-05-31', 12), need('2026-06-01', 5)])
    expect(weeks.map(({ promised }) => promised)).toEqual([0, 42, 5])
  })

  it('has no heaviest week where nothing comes', () => {
    expect(toComeFrom(drawn([0, 0]), everyStem, monday, [])).toMatchObject({ heaviest: undefined, total: { mean: 0, q95: 0 } })
  })
})

describe('a line', () => {
  it.each<[string, ToldGrade, string[], Parameters<typeof couldTake>[1], boolean]>([
    ['of any colour takes the chosen colour', 'first', [], { colours: [ember], grade: '' }, true],
    ['of another colour does not', 'first', ['coral'], { colours: [ember], grade: '' }, false],
    ['does not take what nobody told the colour of', 'first', ['coral'], { colours: [''], grade: '' }, false],
    ['of firsts may take others than extra', 'first', [], { colours: [], grade: 'extra' }, false],
    ['of extra is of the firsts and better', 'extra', [], { colours: [], grade: 'first' }, true],
    ['of any grade may take seconds', '', [], { colours: [], grade: 'first' }, false],
  ])('%s', (_, grade, colours, which, takes) => {
    expect(couldTake({ grade, colours: colours as ColourID[] }, which)).toBe(takes)
  })
})

describe('the weeks that matter', () => {
  const shown = (weeks: readonly number[], promised: readonly LineNeed[] = []) => {
    const { now, later, empty } = weeksThatMatter(toComeFrom(drawn(weeks), everyStem, monday, promised))
    return [empty, now.map(({ stems }) => stems.mean), later.map(({ stems }) => stems.mean)]
  }

  it.each<[string, number[], LineNeed[], unknown[]]>([
    ['are those of the flush', [0, 0, 10, 90, 20, 0, 0], [], [2, [10, 90, 20], []]],
    ['leave a second flush for later, to its end', [50, 100, 1, 0, 30, 20, 0], [], [0, [50, 100], [1, 0, 30, 20]]],
    ['begin with what is promised before the flush', [0, 0, 10, 0], [need('2026-05-26', 5)], [1, [0, 10], []]],
    ['are none where nothing comes', [0, 0], [], [0, [], []]],
    ['are those with promises where nothing else comes', [0, 0, 0], [need('2026-05-26', 5)], [1, [0], []]],
    ['tell of what is promised behind the flush', [10, 0, 0], [need('2026-06-01', 5)], [0, [10], [0, 0]]],
  ])('%s', (_, weeks, promised, expected) => {
    expect(shown(weeks, promised)).toEqual(expected)
  })
})

describe('the weeks around a day', () => {
  const draws = drawn([10, 20, 30, 40, 50, 60, 70])
  const around = (today: string, day: string, lines: { due: string; stems: number; colours?: string }[] = []) =>
    weeksAround(draws, { colours: [ember], grade: 'second' }, salesOf({ lines }), today as Day, day as Day)

  it.each([
    ['are two before and two behind it', '2026-05-18', '2026-06-10', ['2026-05-25', '2026-06-01', '2026-06-08', '2026-06-15', '2026-06-22']],
    ['begin with today\u2019s', '2026-06-07', '2026-06-08', ['2026-06-01', '2026-06-08', '2026-06-15', '2026-06-22']],
    ['end with the last that the draws tell of', '2026-05-18', '2026-07-05', ['2026-06-15', '2026-06-22', '2026-06-29']],
    ['are none where they tell of none of them', '2026-08-01', '2026-08-02', []],
  ])('%s', (_, today, day, expected) => {
    const weeks = around(today, day)
    expect(weeks.map(({ first }) => first)).toEqual(expected)
    expect(weeks.filter((week) => isIn(week, day as Day)).length).toBe(expected.length === 0 ? 0 : 1)
  })

  it('stand beside what is promised of the same stems, to the last of their days', () => {
    const promised = around('2026-06-01', '2026-06-10', [{ due: '2026-06-08', stems: 3 }, { due: '2026-06-28', stems: 5, colours: 'ember' }, { due: '2026-06-09', stems: 7, colours: 'coral' }])
    expect(promised.map((week) => week.promised)).toEqual([0, 3, 0, 5])
  })
})
