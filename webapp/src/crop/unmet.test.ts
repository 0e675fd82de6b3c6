import { expect, it } from 'vitest'
import type { Ask, AskID } from './ahead_nouns'
import type { ColourID, Day } from './nouns'
import { unmetByWeek } from './unmet'

const ask = (id: string, from: string, stems: number, colours: readonly string[], told: Partial<Ask> = {}) =>
  ({ id: id as AskID, from: from as Day, due: from as Day, stems, colours: colours as readonly ColourID[], answer: '', offered: 0, ...told }) as Ask

it('adds up by week and colours what was not promised, most first in each week', () => {
  expect(unmetByWeek([
    ask('a', '2026-06-09', 50, ['ember']),
    ask('b', '2026-06-03', 40, ['ember', 'coral'], { answer: 'declined' }),
    ask('c', '2026-06-05', 20, ['coral', 'ember'], { answer: 'went_elsewhere' }),
    ask('d', '2026-06-01', 90, [], { answer: 'promised', offered: 10 }),
    ask('e', '2026-06-01', 30, ['damson'], { answer: 'promised', offered: 30 }),
  ])).toEqual([
    { week: '2026-06-01', colours: [], stems: 80, asks: ['d'] },
    { week: '2026-06-01', colours: ['coral', 'ember'], stems: 60, asks: ['b', 'c'] },
    { week: '2026-06-08', colours: ['ember'], stems: 50, asks: ['a'] },
  ])
})
