import { expect, it } from 'vitest'
import type { ColourID, Day } from '../crop/nouns'
import { comingOf } from './coming'
import type { Draws } from './draws'

const ember = 'ember' as ColourID
const parts = [0, 0, 51, 128, 255, 255, 255]

/** One draw of four weeks, of one colour and length; each week as out, second, first, extra. */
const draws: Draws = {
  n: 1, from: '2026-05-26' as Day, weeks: ['2026-05-25', '2026-06-01', '2026-06-08', '2026-06-15'] as Day[], colours: [ember], lengths: [0],
  stems: Uint16Array.from([0, 0, 0, 0, 9, 5, 0, 3, 0, 0, 1, 0, 0, 0, 0, 0]), days: Uint8Array.from([...parts, ...parts, ...parts, ...parts]),
}

it('stems come by day as the parts of their week say, saleable ones alone, without idle weeks on both sides', () => {
  const { first, last, days, kinds, stems } = comingOf(draws)
  expect({ first, last, days, grades: kinds.map(({ grade }) => grade) }).toEqual({ first: '2026-06-01', last: '2026-06-21', days: 14, grades: ['second', 'first', 'extra'] })
  const ofKind = (kind: number) => Array.from({ length: days }, (_, day) => stems[day * kinds.length + kind]!).join(' ')
  expect([0, 1, 2].map(ofKind)).toEqual(['0 0 1 2 2 0 0 0 0 0 0 0 0 0', '0 0 0 0 0 0 0 0 0 0 1 0 0 0', '0 0 1 1 1 0 0 0 0 0 0 0 0 0'])
})
