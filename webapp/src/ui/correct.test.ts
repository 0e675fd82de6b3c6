import { signal } from '@preact/signals'
import { beforeEach, describe, expect, it } from 'vitest'
import type { Day, PlantID, Season, Visit } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, visitWith } from '../crop/testing/nouns'
import type { CellReading, Look, Notebook } from '../sync/notebook'
import { factForTotal, factForWithdrawal, factsForDay } from './correct'
import { today } from './today'

const cell = 'extra|500|600'

/** looks: what wants a look in the cell. */
function bookWith(reading: CellReading, ownVisit: string, looks: readonly Look['kind'][]): Notebook {
  const elsewhere: Look = { kind: 'twice', type: 'visit', id: 'v', field: 'first|500|600' }
  const here = looks.map((kind): Look => ({ kind, type: 'visit', id: 'v', field: cell }))
  return { cell: () => reading, visitID: () => ownVisit, looks: signal([elsewhere, ...here]) } as unknown as Notebook
}

const visit = { id: 'v', plant: 'p', planting: '', bed: '', date: '2026-06-03', purpose: 'cut', counts: [] } as unknown as Visit

beforeEach(() => { today.value = '2026-06-03' as Day })

describe('correcting a count', () => {
  const cases: [string, CellReading, string, number, object | undefined, Look['kind'][]?][] = [
    ['the writer sets the own part anew', { own: 7, total: 7, tips: [] }, 'v', 5, { op: 'count', value: 5 }],
    ['the writer leaves what others wrote', { own: 7, total: 10, tips: [] }, 'v', 8, { op: 'count', value: 5 }],
    ['anybody else records a difference and what they saw', { own: 0, total: 7, tips: [] }, 'other', 5,
      { op: 'correct', value: -2, extra: { saw: 7 } }],
    ['a further correction names the ones before', { own: 7, total: 6, tips: ['i:4'] }, 'v', 9,
      { op: 'correct', value: 3, extra: { saw: 6, after: ['i:4'] } }],
    ['missed corrections are settled even where their total is right', { own: 0, total: 6, tips: ['i:4', 'j:2'] }, 'other', 6,
      { op: 'correct', value: 0, extra: { saw: 6, after: ['i:4', 'j:2'] } }, ['missed']],
    ['a number that is right is said to be, where one writer counts under two identities', { own: 6, total: 6, tips: [] }, 'v', 6,
      { op: 'correct', value: 0, extra: { saw: 6 } }, ['twice']],
    ['the writer under two identities corrects too, since a count would settle nothing', { own: 6, total: 6, tips: [] }, 'v', 4,
      { op: 'correct', value: -2, extra: { saw: 6 } }, ['twice']],
    ['the writer cannot go below nought by the own part alone', { own: 2, total: 10, tips: [] }, 'v', 5,
      { op: 'correct', value: -5, extra: { saw: 10 } }],
    ['nothing is recorded where the number stands already', { own: 7, total: 7, tips: [] }, 'v', 7, undefined],
  ]
  it.each(cases)('%s', (_, reading, ownVisit, wanted, fact, looks = []) => {
    const made = factForTotal(bookWith(reading, ownVisit, looks), visit, cell, wanted)
    if (fact === undefined) expect(made).toBeUndefined()
    else expect(made).toMatchObject({ type: 'visit', id: 'v', field: cell, scope: 'field', ...fact })
  })
})

describe('correcting a count on a later day', () => {
  const cases: [string, CellReading, number, object][] = [
    ['the writer corrects too, so that what stood before stays on record', { own: 7, total: 7, tips: [] }, 5,
      { op: 'correct', value: -2, extra: { saw: 7 } }],
    ['the writer’s first number in a cell is a count', { own: 0, total: 0, tips: [] }, 5, { op: 'count', value: 5 }],
  ]
  it.each(cases)('%s', (_, reading, wanted, fact) => {
    today.value = '2026-06-04' as Day
    expect(factForTotal(bookWith(reading, 'v', []), visit, cell, wanted)).toMatchObject(fact)
  })
})

describe('giving a visit another day', () => {
  const bed = bedWith({ cutBack: new Map([[2026 as Season, '2026-07-10' as Day]]) })
  const farm = farmWith({ beds: [bed], plantings: [plantingWith()], plants: [plantWith()] })
  const cases: [string, Partial<Visit>, string, object][] = [
    ['leaves its flush where that is the same', { date: '2026-06-03' as Day, flush: 'spring' }, '2026-06-02', { date: '2026-06-02' }],
    ['takes its flush along over the day of cutting back', { date: '2026-07-12' as Day, flush: 'fall' }, '2026-07-09', { date: '2026-07-09', flush: 'spring' }],
    ['and back', { date: '2026-07-09' as Day, flush: 'spring' }, '2026-07-10', { date: '2026-07-10', flush: 'fall' }],
    ['leaves a flush that was not that of its day', { date: '2026-07-12' as Day, flush: 'spring' }, '2026-07-09', { date: '2026-07-09' }],
    ['leaves a flush that nobody told', { date: '2026-07-12' as Day, flush: '' }, '2026-07-09', { date: '2026-07-09' }],
  ]
  it.each(cases)('%s', (_, told, day, wanted) => {
    const facts = factsForDay(farm, visitWith({ plant: 'p' as PlantID, ...told }), day as Day)
    expect(Object.fromEntries(facts.map(({ field, value }) => [field, value]))).toEqual(wanted)
    expect(facts.every(({ scope, op, type, id }) => `${scope} ${op} ${type} ${id}` === 'field set visit v')).toBe(true)
  })

  it('of a bench total is written in the scope of the shed', () => {
    expect(factsForDay(farm, visitWith({ purpose: 'bench', bed: bed.id }), '2026-06-02' as Day)).toMatchObject([{ scope: 'shed' }])
  })
})

describe('settling a withdrawal', () => {
  const purposes: [string, string][] = [['bench', 'shed'], ['cut', 'field']]
  it.each(purposes)('of a %s visit is written in the scope %s', (purpose, scope) => {
    const notebook = { visit: () => ({ ...visit, purpose }) } as unknown as Notebook
    const look = { kind: 'withdrawn', type: 'visit', id: 'v', field: '' } as const
    expect(factForWithdrawal(notebook, look, true)).toEqual({ scope, op: 'set', type: 'visit', id: 'v', field: 'withdrawn', value: 1 })
  })

  it.each([['cost', 'money'], ['payment', 'money'], ['statement', 'money'], ['statement_row', 'money'], ['price', 'money'], ['order', 'shed'], ['work', 'field']])('of a %s is written in the scope %s', (type, scope) => {
    expect(factForWithdrawal({} as Notebook, { kind: 'withdrawn', type, id: 'x', field: '' }, true)).toMatchObject({ scope, type })
  })

  it('of anything else is written in the scope field', () => {
    const look = { kind: 'withdrawn', type: 'plant', id: 'p', field: '' } as const
    expect(factForWithdrawal({} as Notebook, look, false)).toMatchObject({ scope: 'field', type: 'plant', id: 'p', value: 0 })
  })
})
