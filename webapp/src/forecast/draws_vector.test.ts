// Draws unpack as the vector has them, which Go runs too.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import type { ColourID, Day, Grade } from '../crop/nouns'
import { type Draws, gradesLowToHigh, unpackDraws, weekDayOf } from './draws'
import type { PackedDraws } from './forecast'

interface Many {
  readonly draws: PackedDraws
  readonly stems: readonly (readonly number[])[]
  readonly parts: readonly (readonly (readonly number[])[])[]
}

interface Vector {
  readonly many: Many
  readonly draws: PackedDraws
  readonly stems: readonly { draw: number; week: Day; colour: ColourID | ''; grade: Grade; length: number; stems: number }[]
  /** By draw and week. */
  readonly parts: readonly (readonly (readonly number[])[])[]
  /** Stems by the end of a day, by draw: of some colours, at least so good and so long. */
  readonly until: readonly { colours: readonly string[]; grade: Grade; length: number; day: Day; stems: readonly number[] }[]
}

const vector = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/forecast_draws.json'), 'utf8')) as Vector
const draws = unpackDraws(vector.draws)

/** By the written form alone, apart from any other code that adds up. */
function stemsAt({ weeks, colours, lengths, stems }: Draws, draw: number, week: number, colour: number, grade: number, length: number): number {
  return stems[(((draw * weeks.length + week) * colours.length + colour) * 4 + grade) * lengths.length + length]!
}

it('hold the stems of the vector and no others', () => {
  const found = []
  for (let draw = 0; draw < draws.n; draw++) {
    for (const [w, week] of draws.weeks.entries()) {
      for (const [c, colour] of draws.colours.entries()) {
        for (const [g, grade] of gradesLowToHigh.entries()) {
          for (const [l, length] of draws.lengths.entries()) {
            const stems = stemsAt(draws, draw, w, c, g, l)
            if (stems > 0) found.push({ draw, week, colour, grade, length, stems })
          }
        }
      }
    }
  }
  expect(found).toEqual(vector.stems)
  expect([...draws.days]).toEqual(vector.parts.flat(2))
})

it('of many draws, of which some are large and some hold nothing, unpack to the same', () => {
  const { stems, days } = unpackDraws(vector.many.draws)
  expect([...stems]).toEqual(vector.many.stems.flat())
  expect([...days]).toEqual(vector.many.parts.flat(2))
})

it.each(vector.until)('have $stems of $colours from $grade and $length mm on by $day', ({ colours, grade, length, day, stems }) => {
  const until = Array.from({ length: draws.n }, (_, draw) => draws.weeks.reduce((sum, monday, week) => {
    let inWeek = 0
    for (const [c, colour] of draws.colours.entries()) {
      for (let g = gradesLowToHigh.indexOf(grade); g < 4; g++) {
        for (const [l, edge] of draws.lengths.entries()) {
          if (colours.includes(colour) && edge >= length) inWeek += stemsAt(draws, draw, week, c, g, l)
        }
      }
    }
    const at = weekDayOf(draws, day)
    const over = at === undefined || at.week > week ? day > monday : at.week === week && at.weekday === 6
    if (over) return sum + inWeek
    return at?.week === week ? sum + Math.round((inWeek * draws.days[(draw * draws.weeks.length + week) * 7 + at.weekday]!) / 255) : sum
  }, 0))
  expect(until).toEqual(stems)
})
