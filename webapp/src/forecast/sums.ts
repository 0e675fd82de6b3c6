// Sums over joint draws: of all that is chosen, within a draw, before anything is said of how sure it is. Quantiles of
// colours or of weeks do not add up; draws do.

import { addDays } from '../crop/day'
import { type ColourID, type Day, type Grade, gradesHighToLow } from '../crop/nouns'
import { type Draws, gradesLowToHigh, weekDayOf } from './draws'
import type { Range } from './forecast'

/** Of which stems something is asked. */
export interface Which {
  /** None is all. */
  readonly colours: readonly (ColourID | '')[]
  /** At least; '' is every stem, those that cannot be sold too. */
  readonly grade: Grade | ''
  /** Those of length classes from so many millimetres on; none is any. */
  readonly length?: number
}

export const everyStem: Which = { colours: [], grade: '' }

/** Stems by week and draw that are cut on a day or later. */
export function stemsByWeek(draws: Draws, which: Which, from: Day): Float64Array[] {
  return draws.weeks.map((_, week) => stemsOfWeek(draws, week, which, from))
}

/** Stems of one week by draw that are cut on a day or later. */
export function stemsOfWeek(draws: Draws, week: number, which: Which, from: Day): Float64Array {
  const sums = wholeWeek(draws, week, which)
  const before = weekDayOf(draws, addDays(from, -1))
  const behind = before === undefined ? from > lastDay(draws) : week < before.week
  if (behind) return sums.fill(0)
  if (before?.week !== week) return sums
  return sums.map((stems, draw) => stems - cutBy(draws, draw, week, before.weekday, stems))
}

/** Stems of a week by weekday and draw, Monday first: what of the week's stems is cut on the day itself. */
export function stemsByDay(draws: Draws, week: number, which: Which): Float64Array[] {
  const sums = wholeWeek(draws, week, which)
  const by = Array.from({ length: 7 }, (_, weekday) => sums.map((stems, draw) => cutBy(draws, draw, week, weekday, stems)))
  return by.map((until, weekday) => (weekday === 0 ? until : until.map((stems, draw) => stems - by[weekday - 1]![draw]!)))
}

/** The same draw of all weeks together. */
export function together(weeks: readonly Float64Array[], n: number): Float64Array {
  const sums = new Float64Array(n)
  for (const week of weeks) week.forEach((stems, draw) => { sums[draw]! += stems })
  return sums
}

/** The mean and quantiles of as many equally likely numbers, linear between them (R's type 7), as the shed's are. */
export function rangeOf(values: ArrayLike<number>): Range {
  const sorted = Float64Array.from(values).sort()
  const at = (p: number) => quantile(sorted, p)
  const mean = sorted.length === 0 ? 0 : sorted.reduce((sum, one) => sum + one, 0) / sorted.length
  return { mean, q05: at(0.05), q25: at(0.25), q50: at(0.5), q75: at(0.75), q95: at(0.95) }
}

function quantile(sorted: Float64Array, p: number): number {
  const at = p * (sorted.length - 1)
  const low = sorted[Math.floor(at)] ?? 0
  return low + (at - Math.floor(at)) * ((sorted[Math.ceil(at)] ?? low) - low)
}

/** How often, of all draws, there are as many stems as that. */
export function oddsOf(values: ArrayLike<number>, stems: number): number {
  return values.length === 0 ? 0 : Array.from(values).filter((one) => one >= stems).length / values.length
}

/** The least grades that can be asked for, the best first. */
export const leastGrades: readonly Grade[] = gradesHighToLow.filter((grade) => grade !== 'out')

function wholeWeek(draws: Draws, week: number, { colours, grade, length = 0 }: Which): Float64Array {
  const { n, stems, lengths } = draws
  const sums = new Float64Array(n)
  const perColour = gradesLowToHigh.length * lengths.length
  const perWeek = draws.colours.length * perColour
  const first = grade === '' ? 0 : gradesLowToHigh.indexOf(grade) * lengths.length
  draws.colours.forEach((colour, c) => {
    if (colours.length > 0 && !colours.includes(colour)) return
    for (let draw = 0; draw < n; draw++) {
      const start = (draw * draws.weeks.length + week) * perWeek + c * perColour
      for (let at = first; at < perColour; at++) if (lengths[at % lengths.length]! >= length) sums[draw]! += stems[start + at]!
    }
  })
  return sums
}

/** Of so many stems of a week, how many are cut by the end of a weekday. */
function cutBy({ weeks, days }: Draws, draw: number, week: number, weekday: number, stems: number): number {
  return Math.round(stems * days[(draw * weeks.length + week) * 7 + weekday]! / 255)
}

function lastDay({ weeks, from }: Draws): Day {
  const monday = weeks.at(-1)
  return monday === undefined ? from : addDays(monday, 6)
}
