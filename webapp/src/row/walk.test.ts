import { describe, expect, it } from 'vitest'
import type { Bed, BedID, Day, Farm, Plant, PlantID, Planting, PlantingID, Season, Visit, VisitID, Window } from '../crop/nouns'
import { northernYear } from '../crop/season'
import { countedIn, dayStateOf, flushOf, neighbour, nextUnseen } from './walk'
import { inWalkOrder } from '../crop/walk_order'

const season = 2026 as Season
const day = '2026-06-03' as Day
const whole: Window = { from: '2026-01-01' as Day, to: '2026-10-31' as Day }

function plant(code: string, line: number, number: number, window: Window | undefined = whole, removed = ''): Plant {
  return {
    id: code as PlantID, code, planting: 'p' as PlantingID, line, number, parents: [], colour: '',
    removed: removed as Day | '', counted: new Map(window ? [[season, window]] : []), photos: [], photosAway: [],
  }
}

function farmOf(plants: readonly Plant[], visits: readonly Visit[] = []): Farm {
  const visitsOf = new Map<PlantID, Set<VisitID>>()
  for (const { id, plant: at } of visits) {
    if (at !== '') visitsOf.set(at, (visitsOf.get(at) ?? new Set()).add(id))
  }
  return {
    id: '', name: '', unit: 'cm', calendar: northernYear, madeUp: false, people: new Map(), colours: new Map(),
    beds: new Map(), stocks: new Map(), plants: new Map(plants.map((p) => [p.id, p])),
    plantings: new Map([['p' as PlantingID, { bed: 'b' as BedID } as Planting]]),
    visits: new Map(visits.map((v) => [v.id, v])), visitsOf,
  }
}

function visit(id: string, at: string, purpose: Visit['purpose'], stems: number, date = day): Visit {
  return {
    id: id as VisitID, plant: at as PlantID, bed: '', date, purpose, person: '', flush: '', toOrder: false, planting: '', age: 0,
    counts: stems > 0 ? [{ colour: '', grade: '', length: { lo: 0, hi: 0 } as never, stems }] : [],
  }
}

const codes = (plants: readonly Plant[]) => plants.map((p) => p.code)

describe('walk order', () => {
  it('goes up one line and down the next', () => {
    const plants = [plant('A', 2, 1), plant('B', 1, 9), plant('C', 1, 2), plant('D', 2, 7), plant('E', 3, 1), plant('F', 3, 4)]
    expect(codes(inWalkOrder(plants))).toEqual(['C', 'B', 'D', 'A', 'E', 'F'])
  })

  it('puts plants without a place last, by code', () => {
    expect(codes(inWalkOrder([plant('Z', 0, 0), plant('B', 0, 0), plant('A', 1, 1)]))).toEqual(['A', 'B', 'Z'])
  })
})

describe('which plants are called out', () => {
  const past: Window = { from: '2026-01-01' as Day, to: '2026-06-02' as Day }
  const later: Window = { from: '2026-06-04' as Day, to: '2026-10-31' as Day }
  const cases: [string, Plant, boolean][] = [
    ['counted, window holds the day', plant('A', 1, 1), true],
    ['not counted', { ...plant('A', 1, 1), counted: new Map() }, false],
    ['counting is over', plant('A', 1, 1, past), false],
    ['counting has not begun', plant('A', 1, 1, later), false],
    ['gone before the day', plant('A', 1, 1, whole, '2026-05-01'), false],
    ['gone only after the day', plant('A', 1, 1, whole, '2026-07-01'), true],
  ]
  it.each(cases)('%s', (_, one, called) => {
    expect(countedIn(farmOf([one]), 'b' as BedID, season, day).length).toBe(called ? 1 : 0)
  })

  it('leaves out the plants of another bed', () => {
    expect(countedIn(farmOf([plant('A', 1, 1)]), 'other' as BedID, season, day)).toEqual([])
  })
})

describe('what a day says of a plant', () => {
  const cases: [string, Visit[], { seen: boolean; stems: number }][] = [
    ['nothing recorded', [], { seen: false, stems: 0 }],
    ['stems of two people are summed', [visit('1', 'A', 'cut', 4), visit('2', 'A', 'cut', 3)], { seen: true, stems: 7 }],
    ['told as nothing here', [visit('1', 'A', 'nothing', 0)], { seen: true, stems: 0 }],
    ['a count taken back to nought is not seen', [visit('1', 'A', 'cut', 0)], { seen: false, stems: 0 }],
    ['another day does not count', [visit('1', 'A', 'cut', 4, '2026-06-02' as Day)], { seen: false, stems: 0 }],
    ['stems left standing are no cut', [visit('1', 'A', 'standing', 4)], { seen: false, stems: 0 }],
  ]
  it.each(cases)('%s', (_, visits, state) => {
    expect(dayStateOf(farmOf([plant('A', 1, 1)], visits), 'A' as PlantID, day)).toEqual(state)
  })
})

describe('the next plant', () => {
  const order = ['A', 'B', 'C', 'D'].map((code, i) => plant(code, 1, i + 1))
  const seenOf = (...seen: string[]) => (id: PlantID) => seen.includes(id)
  const cases: [string, string, string[], string | undefined][] = [
    ['is the one behind', 'A', ['A'], 'B'],
    ['skips those seen today', 'A', ['A', 'B', 'C'], 'D'],
    ['is none at the end, though one was left behind', 'D', ['B', 'C', 'D'], undefined],
    ['is the first unseen where the walk begins', '', ['A'], 'B'],
  ]
  it.each(cases)('%s', (_, at, seen, next) => {
    expect(nextUnseen(order, at as PlantID, seenOf(...seen))?.code).toBe(next)
  })

  it('is a neighbour, seen or not, for the arrow keys', () => {
    expect(neighbour(order, 'B' as PlantID, 1)?.code).toBe('C')
    expect(neighbour(order, 'A' as PlantID, -1)).toBeUndefined()
  })
})

describe('the flush of a visit', () => {
  const bed = { cutBack: new Map([[season, '2026-07-10' as Day]]) } as unknown as Bed
  it.each([['2026-07-09', 'spring'], ['2026-07-10', 'fall'], ['2026-09-01', 'fall']])('on %s is %s', (on, flush) => {
    expect(flushOf(bed, season, on as Day)).toBe(flush)
  })

  it('is spring where the bed was never cut back this season', () => {
    expect(flushOf(bed, 2025 as Season, '2025-09-01' as Day)).toBe('spring')
  })
})
