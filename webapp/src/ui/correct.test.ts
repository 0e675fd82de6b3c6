import { describe, expect, it } from 'vitest'
import type { Visit } from '../crop/nouns'
import type { CellReading, Notebook } from '../sync/notebook'
import { factForTotal } from './correct'

function bookWith(reading: CellReading, ownVisit: string): Notebook {
  return { cell: () => reading, visitID: () => ownVisit } as unknown as Notebook
}

const visit = { id: 'v', plant: 'p', planting: '', bed: '', date: '2026-06-03', purpose: 'cut', counts: [] } as unknown as Visit

describe('correcting a count', () => {
  const cases: [string, CellReading, string, number, object | undefined][] = [
    ['the writer sets the own part anew', { own: 7, total: 7, tips: [] }, 'v', 5, { op: 'count', value: 5 }],
    ['the writer leaves what others wrote', { own: 7, total: 10, tips: [] }, 'v', 8, { op: 'count', value: 5 }],
    ['anybody else records a difference and what they saw', { own: 0, total: 7, tips: [] }, 'other', 5,
      { op: 'correct', value: -2, extra: { saw: 7 } }],
    ['a further correction names the ones before', { own: 7, total: 6, tips: ['i:4'] }, 'v', 9,
      { op: 'correct', value: 3, extra: { saw: 6, after: ['i:4'] } }],
    ['missed corrections are settled even where their total is right', { own: 0, total: 6, tips: ['i:4', 'j:2'] }, 'other', 6,
      { op: 'correct', value: 0, extra: { saw: 6, after: ['i:4', 'j:2'] } }],
    ['the writer cannot go below nought by the own part alone', { own: 2, total: 10, tips: [] }, 'v', 5,
      { op: 'correct', value: -5, extra: { saw: 10 } }],
    ['nothing is recorded where the number stands already', { own: 7, total: 7, tips: [] }, 'v', 7, undefined],
  ]
  it.each(cases)('%s', (_, reading, ownVisit, wanted, fact) => {
    const made = factForTotal(bookWith(reading, ownVisit), visit, 'extra|500|600', wanted)
    if (fact === undefined) expect(made).toBeUndefined()
    else expect(made).toMatchObject({ type: 'visit', id: 'v', field: 'extra|500|600', scope: 'field', ...fact })
  })
})
