import fc from 'fast-check'
import { beforeEach, describe, expect, it } from 'vitest'
import { bedFacts, countFact, countedFacts, plantCell, plantFacts, plantingFacts, visitFacts } from '../crop/facts'
import type { BedID, ColourID, Day, Millimetres, PersonID, Plant, PlantID, Season, Visit } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { stemsIn } from '../crop/bed_day'
import { bedWith, plantingWith, plantWith, visitWith } from '../crop/testing/nouns'
import type { Device } from '../db/device_db'
import type { Store } from '../db/records'
import type { Fact } from '../log/change'
import { Book } from '../sync/book'
import { FarmNotebook } from '../sync/farm_notebook'
import { Keeper } from '../sync/keeper'
import { Session } from '../sync/session'
import { today } from '../ui/today'
import { factsForTyped, type Line, lineOf, plantsOn, typed } from './sheet'

const season = 2026 as Season
const [day, later] = ['2026-06-03', '2026-06-05'] as [Day, Day]
const [a, b, c] = ['a', 'b', 'c'] as [PlantID, PlantID, PlantID]
const bed = bedWith({ id: 'bed' as BedID, name: 'Bed', cutBack: new Map([[season, '2026-06-03' as Day]]) })
const store: Store = { commit: async () => {}, close: () => {} }
const window = { from: '2026-01-01' as Day, to: '2026-12-31' as Day }

function plant(id: PlantID, number: number, told: Partial<Plant> = {}): readonly Fact[] {
  return plantFacts(plantWith({ id, code: id.toUpperCase(), line: 1, number, ...told }))
}

/** A notebook over a disk in memory, in which a bed with three plants stands, two of them counted. */
async function notebookOf(person: string, ...more: readonly Fact[]): Promise<FarmNotebook> {
  const book = new Book('farm', { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }, '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c')
  const session = new Session(book, { device: 'd', person: () => person, newIncarnation: () => '' })
  let wall = 0
  const notebook = new FarmNotebook(book, session, { id: 'd', farm: 'farm', person } as unknown as Device, () => ++wall, () => {})
  notebook.attach(new Keeper(book, store, (touched) => notebook.applied(touched)), () => {})
  await notebook.record([
    ...bedFacts(bed), ...plantingFacts(plantingWith({ bed: bed.id })), ...plant(a, 2), ...plant(b, 1), ...plant(c, 3),
    ...countedFacts(a, season, window), ...countedFacts(b, season, window), ...more,
  ])
  return notebook
}

async function type(notebook: FarmNotebook, at: PlantID, number: number | undefined, on = day): Promise<Line> {
  await notebook.recordInTurn(() => ({ facts: factsForTyped(notebook, at, on, number), alongside: {} }))
  return lineOf(notebook, notebook.farm.peek(), at, on)
}

const visitsAt = (notebook: FarmNotebook, at: PlantID): Visit[] =>
  [...notebook.farm.peek().visits.values()].filter((visit) => visit.plant === at)

beforeEach(() => { today.value = day })

describe('the plants of a sheet', () => {
  it('say something by their 0 on the days of their counting alone', async () => {
    const notebook = await notebookOf('ana', ...countedFacts(b, season, { from: later, to: window.to }))
    const counted = (at: PlantID, on: Day) => lineOf(notebook, notebook.farm.peek(), at, on).counted
    expect([counted(a, day), counted(b, day), counted(b, later), counted(c, day)]).toEqual([true, false, true, false])
  })

  it('are the counted ones as they are walked, or all', async () => {
    const { farm } = await notebookOf('ana')
    expect(plantsOn(farm.peek(), bed.id, day, 'counted').map(({ id }) => id)).toEqual(['b', 'a'])
    expect(plantsOn(farm.peek(), bed.id, day, 'all').map(({ id }) => id)).toEqual(['b', 'a', 'c'])
    expect(plantsOn(farm.peek(), 'other' as BedID, day, 'all')).toEqual([])
  })

  it('leave out what is gone by that day, and keep what went later', async () => {
    const gone = (id: PlantID, on: string): Fact => ({ scope: 'field', op: 'set', type: 'plant', id, field: 'removed', value: on })
    const { farm } = await notebookOf('ana', gone(a, '2026-06-03'), gone(b, '2026-06-04'))
    expect(plantsOn(farm.peek(), bed.id, day, 'all').map(({ id }) => id)).toEqual(['b', 'c'])
  })
})

describe('what is typed', () => {
  it.each([
    ['', 0, true, { number: undefined }], [' 4 ', 0, true, { number: 4 }], ['0', 0, true, { number: 0 }], ['999', 0, true, { number: 999 }],
    ['1000', 0, true, { wrong: 'most' }], ['4.5', 0, true, { wrong: 'number' }], ['-1', 0, true, { wrong: 'number' }], ['x', 0, true, { wrong: 'number' }],
    ['0', 0, false, { wrong: 'uncounted' }], ['4', 0, false, { number: 4 }],
    ['3', 3, true, { number: 3 }], ['2', 3, true, { wrong: 'graded' }], ['', 3, true, { wrong: 'graded' }], ['0', 3, true, { wrong: 'graded' }],
  ])('"%s" beside %d graded stems, counted: %s', (text, graded, counted, read) => {
    expect(typed(text, { graded, counted })).toEqual(read)
  })
})

describe('a number typed for a plant', () => {
  it('is a cut of that day, with one untold cell, of the flush that the bed then was in', async () => {
    const notebook = await notebookOf('ana')
    expect(await type(notebook, a, 4)).toEqual({ counted: true, own: 4, graded: 0, others: [] })
    expect(visitsAt(notebook, a)).toMatchObject([{
      plant: a, bed: bed.id, date: day, purpose: 'cut', person: 'ana', flush: 'fall', toOrder: false, counts: [{ grade: '', length: untoldLength, stems: 4 }],
    }])
  })

  it('takes the place of the number before, and is not added', async () => {
    const notebook = await notebookOf('ana')
    await type(notebook, a, 4)
    expect((await type(notebook, a, 7)).own).toBe(7)
    expect((await type(notebook, a, 2)).own).toBe(2)
    expect(visitsAt(notebook, a)).toHaveLength(1)
  })

  it('stands for itself on each day', async () => {
    const notebook = await notebookOf('ana')
    await type(notebook, a, 4)
    await type(notebook, a, 9, '2026-06-02' as Day)
    expect(lineOf(notebook, notebook.farm.peek(), a, day).own).toBe(4)
    expect(visitsAt(notebook, a).map(({ flush }) => flush).sort()).toEqual(['fall', 'spring'])
  })

  it('of none is nothing here, and a number then unsays that', async () => {
    const notebook = await notebookOf('ana')
    expect((await type(notebook, a, 0)).own).toBe(0)
    expect(visitsAt(notebook, a)).toMatchObject([{ purpose: 'nothing', counts: [] }])
    expect((await type(notebook, a, 3)).own).toBe(3)
    expect(visitsAt(notebook, a).map(({ purpose }) => purpose)).toEqual(['cut'])
    expect((await type(notebook, a, 0)).own).toBe(0)
  })

  it('that is blanked again is not recorded', async () => {
    const notebook = await notebookOf('ana')
    await type(notebook, a, 4)
    expect((await type(notebook, a, undefined)).own).toBeUndefined()
    await type(notebook, a, 0)
    expect((await type(notebook, a, undefined)).own).toBeUndefined()
    expect(visitsAt(notebook, a).flatMap(({ counts }) => counts)).toEqual([])
  })

  it('that was never there leaves no visit behind', async () => {
    const notebook = await notebookOf('ana')
    await type(notebook, a, undefined)
    expect(visitsAt(notebook, a)).toEqual([])
  })

  it('leaves what was recorded by grade, and tells the whole', async () => {
    const notebook = await notebookOf('ana')
    const id = notebook.visitID(a, day, 'cut')
    const cell = plantCell('extra', { lo: 500 as Millimetres, hi: 600 as Millimetres })
    await notebook.record([...visitFacts(visitWith({ id, plant: a, date: day })), countFact('field', id, cell, 3)])
    expect(await type(notebook, a, 5)).toMatchObject({ own: 5, graded: 3 })
    expect(await type(notebook, a, 3)).toMatchObject({ own: 3, graded: 3 })
  })

  it('leaves another person’s number, which shows beside it', async () => {
    const by = (person: string, n: number) => visitWith({
      id: `v-${person}` as Visit['id'], plant: a, date: day, person: person as PersonID,
      counts: [{ colour: '' as ColourID | '', grade: '', length: untoldLength, stems: n }],
    })
    const notebook = await notebookOf('ana', ...visitFacts(by('ben', 5)))
    expect(await type(notebook, a, 4)).toEqual({ counted: true, own: 4, graded: 0, others: [{ person: 'ben', stems: 5 }] })
    expect(notebook.farm.peek().visits.get('v-ben' as Visit['id'])).toMatchObject({ counts: [{ stems: 5 }] })
  })

  it('on a later day is a correction, so that what stood before stays on record', async () => {
    const notebook = await notebookOf('ana')
    await type(notebook, a, 4)
    today.value = later
    expect((await type(notebook, a, 6)).own).toBe(6)
    const [visit] = visitsAt(notebook, a)
    expect(notebook.history('visit', visit!.id).filter(({ op }) => op === 'correct')).toMatchObject([{ before: 4, after: 6 }])
  })

  it('always ends as the last one typed, whatever was typed before, on the day or later', { timeout: 60_000 }, async () => {
    const number = fc.option(fc.nat(12), { nil: undefined })
    await fc.assert(fc.asyncProperty(fc.array(fc.tuple(fc.constantFrom(a, b), number, fc.boolean()), { maxLength: 12 }), async (all) => {
      today.value = day
      const notebook = await notebookOf('ana')
      const last = new Map<PlantID, number | undefined>()
      for (const [at, n, nextDay] of all) {
        if (nextDay) today.value = later
        expect((await type(notebook, at, n)).own).toBe(n)
        last.set(at, n)
      }
      for (const [at, n] of last) {
        expect(lineOf(notebook, notebook.farm.peek(), at, day)).toMatchObject({ own: n, others: [] })
        expect(visitsAt(notebook, at).reduce((sum, visit) => sum + stemsIn(visit), 0)).toBe(n ?? 0)
      }
    }), { numRuns: 40 })
  })
})
