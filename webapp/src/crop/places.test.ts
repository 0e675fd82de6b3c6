import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import type { BedID, Day, PlaceSince, Plant, PlantID, Stay } from './nouns'
import { bedOf, bedOn, formatPlace, parsePlace, placeOf } from './places'
import { farmWith, plantingWith, plantWith } from './testing/nouns'
import { farmSaid } from './testing/said'

const since = '2026-03-14' as Day

describe('a place as an element', () => {
  // The same cases as TestAPlaceIsReadAsItIsWritten of internal/farm/place_test.go.
  const cases: [string, string, PlaceSince | undefined][] = [
    ['a place', '2026-03-14/m1/2/7/b1', { since, move: 'm1', bed: 'b1' as BedID, line: 2, number: 7 }],
    ['a bed whose id holds a slash', '2026-03-14/m1/1/1/a/b', { since, move: 'm1', bed: 'a/b' as BedID, line: 1, number: 1 }],
    ['somewhere in a bed', '2026-03-14/m1/0/0/b1', { since, move: 'm1', bed: 'b1' as BedID, line: 0, number: 0 }],
    ['no bed', '2026-03-14/m1/2/7/', undefined],
    ['no such day', '2026-02-30/m1/2/7/b1', undefined],
    ['a number written otherwise', '2026-03-14/m1/02/7/b1', undefined],
    ['below the first line', '2026-03-14/m1/-1/7/b1', undefined],
    ['no name of the move', '2026-03-14//2/7/b1', undefined],
    ['too few parts', '2026-03-14/2/7/b1', undefined],
  ]
  it.each(cases)('is read as it is written: %s', (_, text, place) => {
    expect(parsePlace(text)).toEqual(place)
    if (place) expect(formatPlace(place)).toBe(text)
  })
})

const stay = (bed: string, until: string): Stay => ({ bed: bed as BedID, line: 1, number: 1, from: '', until: until as Day })

describe('where a plant stands', () => {
  const farm = farmWith({ plantings: [plantingWith()] })
  const cases: [string, Partial<Plant>, string | undefined, string | undefined][] = [
    ['in its planting’s bed', {}, 'b', undefined],
    ['at a place of that', { line: 2, number: 3 }, 'b', '2/3'],
    ['where it was moved to', { bed: 'b2' as BedID, line: 1, number: 4 }, 'b2', '1/4'],
    ['nowhere that is known before its planting has come', { planting: 'later' as Plant['planting'], line: 1, number: 1 }, undefined, undefined],
  ]
  it.each(cases)('is %s', (_, told, bed, place) => {
    const at = placeOf(farm, plantWith(told))
    expect(bedOf(farm, plantWith(told))).toBe(bed)
    expect(at && `${at.line}/${at.number}`).toBe(place)
  })

  it.each([['2026-01-31', 'b0'], ['2026-02-01', 'b1'], ['2026-02-28', 'b1'], ['2026-03-01', 'b2']])('on %s was %s', (day, bed) => {
    const plant = plantWith({ bed: 'b2' as BedID, stood: [stay('b0', '2026-02-01'), stay('b1', '2026-03-01')] })
    expect(bedOn(farm, plant, day as Day)).toBe(bed)
  })
})

describe('a plant read from what was said of it', () => {
  const say = (op: 'add' | 'remove', field: string, value: string): Fact => ({ scope: 'field', op, type: 'plant', id: 'k', field, value })
  const line: Fact = { scope: 'field', op: 'set', type: 'plant', id: 'k', field: 'line', value: 3 }

  it.each<[string, Fact[], [string, number, number], number]>([
    ['stands as it was planted', [line], ['', 3, 0], 0],
    ['stands where it was moved to', [line, say('add', 'places', '2026-03-14/m1/1/2/b2')], ['b2', 1, 2], 1],
    ['stands where it went last, of two places', [line, say('add', 'places', '2026-03-14/m1/1/2/b2'), say('add', 'places', '2026-03-15/m0/1/5/b3')], ['b3', 1, 5], 2],
    ['stands as it was planted once a move is undone', [line, say('add', 'places', '2026-03-14/m1/1/2/b2'), say('remove', 'places', '2026-03-14/m1/1/2/b2')], ['', 3, 0], 0],
    ['stands as it was planted where a later version writes otherwise', [line, say('add', 'places', 'in the shade')], ['', 3, 0], 0],
  ])('%s', (_, facts, [bed, at, number], claims) => {
    const plant = farmSaid(...facts.map((fact) => [fact])).plants.get('k' as PlantID)
    expect(plant).toMatchObject({ bed, line: at, number })
    expect(plant?.places).toHaveLength(claims)
  })

  it('knows its stays, the first first', () => {
    const plant = farmSaid([say('add', 'stood', '2025-04-02/2026-10-01/m2/1/7/b/1'), say('add', 'stood', '/2025-04-02/m1/0/0/b0'), say('add', 'stood', 'long')]).plants.get('k' as PlantID)
    expect(plant?.stood).toEqual([
      { from: '', until: '2025-04-02', bed: 'b0', line: 0, number: 0 }, { from: '2025-04-02', until: '2026-10-01', bed: 'b/1', line: 1, number: 7 },
    ])
  })
})
