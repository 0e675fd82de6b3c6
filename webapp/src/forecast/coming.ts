// What the draws bring day by day: saleable stems by colour class, grade and length class.

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
  readonly n: number
  /** The first day, a Monday, and the last. */
  readonly first: Day
  readonly last: Day
  readonly days: number
  readonly kinds: readonly Kind[]
  /** Stems by draw, day and kind, the last running quickest. */
  readonly stems: Uint16Array
}

const known = new WeakMap<Draws, Coming>()

/** Kept for as long as the draws are. */
export function comingOf(draws: Draws): Coming {
  const before = known.get(draws)
  if (before) return before
  const coming = byDay(draws)
  known.set(draws, coming)
  return coming
}

function byDay(draws: Draws): Coming {
  const { n, weeks, colours, lengths } = draws
  const places = placesOf(draws)
  const ofWeek = colours.length * gradesLowToHigh.length * lengths.length
  const days = weeks.length * 7
  const stems = new Uint16Array(n * days * places.length)
  let at = 0
  for (let week = 0; week < n * weeks.length; week++) {
    const before = new Uint16Array(places.length)
    for (let weekday = 0; weekday < 7; weekday++) {
      const part = draws.days[week * 7 + weekday]!
      for (let kind = 0; kind < places.length; kind++) {
        const until = Math.round((draws.stems[week * ofWeek + places[kind]!]! * part) / 255)
        stems[at++] = until - before[kind]!
        before[kind] = until
      }
    }
  }
  const first = weeks[0] ?? draws.from
  return { n, first, last: addDays(first, days - 1), days, kinds: kindsOf(draws), stems }
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
