import { describe, expect, it } from 'vitest'
import type { BedID, Day, Plant, PlantID, PlantingID, Reading, ReadingID, Season } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, readingWith } from '../crop/testing/nouns'
import { isDone, nextWaiting, planned, referencesFor, toMeasure, usualPlan } from './colour_order'

const [bed, other] = ['bed', 'other'] as [BedID, BedID]
const today = '2026-06-03' as Day
const season = 2026 as Season
const whole = new Map([[season, { from: '2026-01-01' as Day, to: '2026-12-31' as Day }]])

function plant(id: string, number: number, told: Partial<Plant> = {}): Plant {
  return plantWith({ id: id as PlantID, code: id, planting: 'old' as PlantingID, line: 1, number, ...told })
}

function reading(of: string, date: string): Reading {
  return readingWith({ id: `${of} ${date}` as ReadingID, plant: of as PlantID, date: date as Day })
}

const plants = [
  plant('a', 1, { counted: whole }), plant('b', 2), plant('c', 3, { counted: whole }), plant('d', 4, { removed: '2026-05-01' as Day }),
  plant('e', 5, { reference: true }), plant('young', 6, { planting: 'young' as PlantingID }), plant('far', 1, { planting: 'far' as PlantingID, reference: true }),
]
const plantings = [
  plantingWith({ id: 'old' as PlantingID, bed }), plantingWith({ id: 'young' as PlantingID, bed, firstSeason: 2027 as Season }),
  plantingWith({ id: 'far' as PlantingID, bed: other }),
]

function farm(readings: readonly Reading[] = []) {
  return farmWith({ beds: [bedWith({ id: bed }), bedWith({ id: other })], plantings, plants, readings })
}

const ids = (all: readonly { readonly id: string }[]) => all.map(({ id }) => id)

describe('a session calls out', () => {
  it('counted plants, or all that stand and are in their first season or later, in walk order', () => {
    expect(ids(toMeasure(farm(), bed, season, today, 'counted').fresh)).toEqual(['a', 'c'])
    expect(ids(toMeasure(farm(), bed, season, today, 'all').fresh)).toEqual(['a', 'b', 'c'])
  })

  it('all where none is counted', () => {
    const none = farmWith({ plantings, plants: plants.map((one) => ({ ...one, counted: new Map() })) })
    expect(ids(toMeasure(none, bed, season, today, 'counted').fresh)).toEqual(['a', 'b', 'c'])
  })

  it('those without a reading this season first, and then the others', () => {
    const to = toMeasure(farm([reading('a', '2026-05-20'), reading('b', '2025-06-01')]), bed, season, today, 'all')
    expect([ids(to.fresh), ids(to.again)]).toEqual([['b', 'c'], ['a']])
    expect(planned(to, 2)).toEqual(['b', 'c'])
    expect(planned(to, 9)).toEqual(['b', 'c', 'a'])
  })

  it('reference plants of its own bed first, in their own turn', () => {
    expect(ids(referencesFor(farm(), bed, today))).toEqual(['e', 'far'])
    expect(ids(referencesFor(farm(), other, today))).toEqual(['far', 'e'])
  })
})

describe('how many are planned', () => {
  const many = Array.from({ length: 100 }, (_, i) => plant(`${i}`, i))
  it.each([
    ['those that have no reading yet', many.slice(0, 12), many.slice(12), 12],
    ['no more than an hour’s', many, [], 30],
    ['some again where all have one', [], many.slice(0, 7), 7],
    ['none where none stands', [], [], 0],
  ])('is %s', (_, fresh, again, n) => {
    expect(usualPlan({ fresh, again })).toBe(n)
  })
})

describe('a session goes on', () => {
  const order = ['a', 'b', 'c'] as PlantID[]
  const done = (id: string) => id === 'b'
  it.each([['', 'a'], ['a', 'c'], ['b', 'c'], ['c', ''], ['x', 'a']])('from %j to %j', (at, next) => {
    expect(nextWaiting(order, at as PlantID | '', done)).toBe(next)
  })
})

it('a plant is done that was photographed on the day', () => {
  const one = farm([reading('a', today), reading('b', '2026-06-02')])
  expect([isDone(one, 'a' as PlantID, today), isDone(one, 'b' as PlantID, today)]).toEqual([true, false])
})
