import { describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, Plant, PlantID, PlantingID, Season, Visit, VisitID, Window } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, visitWith } from '../crop/testing/nouns'
import { viewOf } from './day'
import { bedsToWalk, calledOut, neighbour, nextUnseen } from './walk'
import { inWalkOrder } from '../crop/walk_order'

const season = 2026 as Season
const day = '2026-06-03' as Day
const whole: Window = { from: '2026-01-01' as Day, to: '2026-10-31' as Day }

function plant(code: string, line: number, number: number, window: Window | null = whole, removed = ''): Plant {
  return plantWith({
    id: code as PlantID, code, planting: 'p' as PlantingID, line, number, removed: removed as Day | '',
    counted: new Map(window ? [[season, window]] : []),
  })
}

function farmOf(plants: readonly Plant[], visits: readonly Visit[] = []): Farm {
  return farmWith({ plants, visits, beds: [bedWith({ name: 'Bed' })], plantings: [plantingWith({ id: 'p' as PlantingID })] })
}

function visit(id: string, at: string, purpose: Visit['purpose'], stems: number, date = day): Visit {
  const counts: Visit['counts'] = stems > 0 ? [{ colour: '', grade: '', length: untoldLength, stems }] : []
  return visitWith({ id: id as VisitID, plant: at as PlantID, date, purpose, counts })
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
    const other = plant('Z', 9, 9)
    expect(codes(calledOut(farmOf([one, other]), 'b' as BedID, season, day, 'counted', ''))).toEqual(called ? ['A', 'Z'] : ['Z'])
  })

  it('leaves out the plants of another bed', () => {
    expect(calledOut(farmOf([plant('A', 1, 1)]), 'other' as BedID, season, day, 'counted', '')).toEqual([])
  })

  const mixed = [plant('A', 1, 1), plant('B', 1, 2, null), plant('C', 1, 3), plant('D', 1, 4, null), plant('E', 1, 5, null, '2026-05-01')]

  it('are all that stand, when asked', () => {
    expect(codes(calledOut(farmOf(mixed), 'b' as BedID, season, day, 'all', ''))).toEqual(['A', 'B', 'C', 'D'])
  })

  it('are all that stand where none is counted', () => {
    expect(codes(calledOut(farmOf([mixed[1]!, mixed[3]!]), 'b' as BedID, season, day, 'counted', ''))).toEqual(['B', 'D'])
  })

  it('hold the uncounted one that somebody went to, at its place', () => {
    expect(codes(calledOut(farmOf(mixed), 'b' as BedID, season, day, 'counted', 'B' as PlantID))).toEqual(['A', 'B', 'C'])
  })

  it('make a bed to walk of every bed in which one stands', () => {
    expect(bedsToWalk(farmOf(mixed), season, day).map(({ bed, standing, counted }) => [bed.name, standing, codes(counted)]))
      .toEqual([['Bed', 4, ['A', 'C']]])
    expect(bedsToWalk(farmOf([mixed[4]!]), season, day)).toEqual([])
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
    expect(viewOf(farmOf([plant('A', 1, 1)], visits), day).state('A' as PlantID)).toEqual(state)
  })

  it('adds up by bed and over all of them', () => {
    const elsewhere = { ...plant('X', 1, 1), planting: 'q' as PlantingID }
    const farm = farmOf([plant('A', 1, 1), plant('B', 1, 2), elsewhere], [
      visit('1', 'A', 'cut', 4), visit('2', 'B', 'cut', 3), visit('3', 'X', 'cut', 5), visit('4', 'B', 'standing', 9),
      visit('5', 'A', 'cut', 8, '2026-06-02' as Day),
    ])
    expect([viewOf(farm, day).ofBed('b' as BedID), viewOf(farm, day).stems]).toEqual([7, 12])
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
