// What is still to come, week by week, of the stems that were chosen, beside what is promised of them.

import { addDays } from '../crop/day'
import type { Grade, Day } from '../crop/nouns'
import { type LineNeed, openNeeds } from '../crop/line_needs'
import type { Sales } from '../crop/sale_nouns'
import { type Draws, gradesLowToHigh } from './draws'
import type { Range } from './forecast'
import { rangeOf, stemsByWeek, stemsOfWeek, together, type Which } from './sums'

export interface WeekToCome {
  /** Its place among the draws' weeks. */
  readonly at: number
  /** Its Monday. */
  readonly first: Day
  /** Those still to be cut. */
  readonly stems: Range
  /** Stems that are due in it and in no bunch yet. */
  readonly promised: number
}

export interface ToCome {
  /** From the week of the day on. */
  readonly weeks: readonly WeekToCome[]
  readonly total: Range
  /** Where most is to be expected; undefined where nothing is. */
  readonly heaviest: WeekToCome | undefined
}

/** What is cut from a day on. */
export function toComeFrom(draws: Draws, which: Which, day: Day, promised: readonly LineNeed[]): ToCome {
  const byWeek = stemsByWeek(draws, which, day)
  const due = promised.filter((need) => couldTake(need, which))
  const weeks = draws.weeks.flatMap((first, at): WeekToCome[] => (addDays(first, 6) < day ? [] : [weekOf(draws, at, byWeek[at]!, due)]))
  const most = weeks.reduce<WeekToCome | undefined>((best, week) => (week.stems.mean > (best?.stems.mean ?? 0) ? week : best), undefined)
  return { weeks, total: rangeOf(together(byWeek, draws.n)), heaviest: most && most.stems.q95 >= 1 ? most : undefined }
}

function weekOf({ weeks }: Draws, at: number, stems: Float64Array, due: readonly LineNeed[]): WeekToCome {
  const first = weeks[at]!
  return { at, first, stems: rangeOf(stems), promised: dueIn(due, first).reduce((sum, need) => sum + need.stems, 0) }
}

/** Of so many weeks before and behind a day something is shown beside it. */
const around = 2

/** The weeks around a day, from today's on and as far as the draws tell: of what is cut from today on. */
export function weeksAround(draws: Draws, which: Which, sales: Sales, today: Day, day: Day): WeekToCome[] {
  const [from, to] = [addDays(day, -7 * around), addDays(day, 7 * around)]
  const due = openNeeds(sales, today, addDays(to, 6)).filter((need) => couldTake(need, which))
  return draws.weeks.flatMap((first, at): WeekToCome[] => {
    const last = addDays(first, 6)
    return last < from || first > to || last < today ? [] : [weekOf(draws, at, stemsOfWeek(draws, at, which, today), due)]
  })
}

export function isIn({ first }: WeekToCome, day: Day): boolean {
  return first <= day && day <= addDays(first, 6)
}

/** What is to be good in a week that begins on a Monday. */
export function dueIn(needs: readonly LineNeed[], monday: Day): LineNeed[] {
  return needs.filter(({ on }) => on >= monday && on <= addDays(monday, 6))
}

/** Whether a line takes some of the stems that are looked at. */
export function couldTake(need: Pick<LineNeed, 'colours' | 'grade'>, { colours, grade }: Which): boolean {
  const colour = colours.length === 0 || need.colours.length === 0 || colours.some((one) => one !== '' && need.colours.includes(one))
  return colour && (grade === '' || notBelow(need.grade || 'second', grade))
}

function notBelow(grade: Grade, least: Grade): boolean {
  return gradesLowToHigh.indexOf(grade) >= gradesLowToHigh.indexOf(least)
}

/** Of the heaviest week's stems, below which a week does not matter for the flush (this program's choice). */
const hardlyAny = 0.02

export interface Shown {
  /** Those that matter: of the flush that comes or goes on, to its end. */
  readonly now: readonly WeekToCome[]
  readonly later: readonly WeekToCome[]
  /** Weeks before the flush begins of which nothing is expected and nothing promised; they are left out. */
  readonly empty: number
}

/** The weeks of the flush that is on or comes next, and those behind it. */
export function weeksThatMatter({ weeks, heaviest }: ToCome): Shown {
  const counts = (week: WeekToCome) => week.stems.q95 >= 1 && week.stems.mean >= hardlyAny * (heaviest?.stems.mean ?? 0)
  const matters = (week: WeekToCome) => week.promised > 0 || counts(week)
  const begins = weeks.findIndex(matters)
  if (begins < 0) return { now: [], later: [], empty: 0 }
  const flush = weeks.findIndex(counts)
  const behind = weeks.findIndex((week, i) => i > Math.max(begins, flush) && !counts(week))
  const ends = behind < 0 ? weeks.length : behind
  const later = weeks.slice(ends)
  const last = later.findLastIndex(matters)
  return { now: weeks.slice(begins, ends), later: later.slice(0, last + 1), empty: begins }
}
