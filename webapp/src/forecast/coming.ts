// What is to come, as promises tell it apart: days, and kinds of saleable stems by colour class, grade and length class. The
// numbers stay in the draws: by day they would take a phone tens of megabytes.

import { addDays } from '../crop/day'
import type { ColourID, Day, Grade, Millimetres } from '../crop/nouns'
import { type Draws, gradesLowToHigh } from './draws'

/** Stems that no promise tells apart. */
export interface Kind {
  /** '' is stems of plants whose colour nobody told. */
  readonly colour: ColourID | ''
  readonly grade: Grade
  /** The lower edge of its length class. */
  readonly length: Millimetres
}

export interface Coming {
  readonly draws: Draws
  /** The first day, a Monday: of weeks before, in no draw anything comes. */
  readonly first: Day
  /** Of whole weeks. */
  readonly days: number
  /** The last day that the draws tell of, whether or not anything comes so late. */
  readonly last: Day
  readonly kinds: readonly Kind[]
  /** Which week of the draws the first day is of. */
  readonly begin: number
  /** Where each kind stands among the stems of a week, and how many numbers a week has. */
  readonly places: Int32Array
  readonly ofWeek: number
}

const known = new WeakMap<Draws, Coming>()

/** Kept for as long as the draws are. */
export function comingOf(draws: Draws): Coming {
  const before = known.get(draws)
  if (before) return before
  const coming = found(draws)
  known.set(draws, coming)
  return coming
}

function found(draws: Draws): Coming {
  const { weeks, colours, lengths } = draws
  const ofWeek = colours.length * gradesLowToHigh.length * lengths.length
  const [begin, end] = weeksWithStems(draws, ofWeek)
  const first = weeks[begin] ?? draws.from
  return {
    draws, first, days: (end - begin) * 7, last: addDays(weeks.at(-1) ?? first, 6), kinds: kindsOf(draws), begin,
    places: Int32Array.from(placesOf(draws)), ofWeek,
  }
}

/** The weeks from the first on in which anything comes. */
export function weeksComing(draws: Draws): Day[] {
  return draws.weeks.filter((week) => week >= comingOf(draws).first)
}

/** The first week in which anything comes in any draw, and the one after the last: a season has idle weeks on both sides. */
function weeksWithStems({ n, weeks, stems }: Draws, ofWeek: number): readonly [begin: number, end: number] {
  const idle = (week: number) => {
    for (let draw = 0; draw < n; draw++) {
      const from = (draw * weeks.length + week) * ofWeek
      for (let i = from; i < from + ofWeek; i++) if (stems[i]! > 0) return false
    }
    return true
  }
  let [begin, end] = [0, weeks.length]
  while (begin < end && idle(begin)) begin++
  while (end > begin && idle(end - 1)) end--
  return [begin, end]
}

const saleable = gradesLowToHigh.filter((grade) => grade !== 'out')

function kindsOf({ colours, lengths }: Draws): Kind[] {
  return colours.flatMap((colour) => saleable.flatMap((grade) => lengths.map((length) => ({ colour, grade, length: length as Millimetres }))))
}

/** Where each kind stands among the stems of a week. */
function placesOf({ colours, lengths }: Draws): number[] {
  const grades = gradesLowToHigh.length
  return colours.flatMap((_, c) => saleable.flatMap((grade) =>
    lengths.map((_length, l) => (c * grades + gradesLowToHigh.indexOf(grade)) * lengths.length + l)))
}
