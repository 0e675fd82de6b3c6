import { expect, it } from 'vitest'
import type { ColourID, Count, Millimetres } from './nouns'
import { untoldLength } from './nouns'
import { tallyOf } from './tally'

const of = (colour: string, grade: Count['grade'], lo: number, stems: number): Count =>
  ({ colour: colour as ColourID, grade, length: lo === 0 ? untoldLength : { lo: lo as Millimetres, hi: (lo + 100) as Millimetres }, stems })

it.each<[string, Count[], unknown]>([
  ['nothing', [], [0, [], [], []]],
  ['a cell of none is no row', [of('ember', 'first', 400, 0)], [0, [], [], []]],
  ['the colour with most stems first, the shortest length first, those not told last',
    [of('coral', 'first', 0, 5), of('ember', 'extra', 500, 20), of('ember', 'first', 400, 10), of('ember', 'first', 500, 1), of('', 'out', 400, 2)],
    [38, [['ember', 31], ['coral', 5], ['', 2]], [['first', 16], ['extra', 20], ['out', 2]], [[400, 12], [500, 21], [0, 5]]]],
])('%s', (_, counts, want) => {
  const { stems, colours, grades, lengths } = tallyOf(counts)
  expect([stems, colours.map((one) => [one.colour, one.stems]), [...grades], lengths.map(({ length, stems: n }) => [length.lo, n])]).toEqual(want)
})
