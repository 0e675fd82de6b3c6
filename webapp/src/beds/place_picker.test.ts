import { describe, expect, it } from 'vitest'
import type { BedID, Day, Place, Plant, PlantID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { bedToBegin, BedPlaces, pickedIn, type Picked, placesOf, type Row, tapped } from './place_picker'

const b = 'b' as BedID
const at = (line: number, number: number): Place => ({ bed: b, line, number })
const written = (places: readonly Place[]) => places.map(({ line, number }) => `${line}/${number}`)
const plant = (id: string, told: Partial<Plant>) => plantWith({ id: id as PlantID, code: id, ...told })

function placesIn(plants: readonly Plant[], lines = 2, leaving: readonly string[] = []): BedPlaces {
  return new BedPlaces(farmWith({ beds: [bedWith({ lines })], plantings: [plantingWith()], plants }), bedWith({ lines }), leaving as PlantID[])
}

/** A row as "3: taken gap", a stretch as "2-9". */
const drawn = (rows: readonly Row[]) => rows.map((row) => ('from' in row ? `${row.from}-${row.to}` : `${row.number}: ${row.spots.map(({ is }) => is).join(' ')}`))

const some = [plant('a', { line: 1, number: 1 }), plant('c', { line: 1, number: 3 }), plant('d', { line: 2, number: 1 })]

describe('a bed’s places', () => {
  it('are drawn as taken, as gaps between, and free behind the last', () => {
    expect(drawn(placesIn(some).rows([]))).toEqual(['1: taken taken', '2: gap free', '3: taken free', '4: free free', '5: free free', '6: free free', '7: free free'])
  })

  it.each<[string, Plant[], string[], string]>([
    ['a plant that is gone leaves its place', [plant('a', { line: 1, number: 1, removed: '2026-01-01' as Day })], [], '1: free'],
    ['a plant that leaves with this has left', [plant('a', { line: 1, number: 1 })], ['a'], '1: free'],
    ['a plant in two places holds both', [plant('a', { line: 1, number: 1, places: [{ ...at(1, 1), since: '2026-01-01' as Day, move: 'm' }, { ...at(1, 2), since: '2026-01-01' as Day, move: 'n' }] })], [], '1: taken'],
    ['one line is drawn of a bed that tells none', [], [], '1: free'],
  ])('%s', (_, plants, leaving, first) => {
    expect(drawn(placesIn(plants, 0, leaving).rows([]))[0]).toBe(first)
  })

  it('that are all taken are drawn as one stretch where they are many', () => {
    const full = Array.from({ length: 9 }, (_, i) => plant(`p${i}`, { line: 1, number: i + 1 }))
    expect(drawn(placesIn(full, 1).rows([])).slice(0, 4)).toEqual(['1: taken', '2-8', '9: taken', '10: free'])
    expect(drawn(placesIn(full.slice(0, 4), 1).rows([])).slice(0, 3)).toEqual(['1: taken', '2: taken', '3: taken'])
  })

  it('reach beyond the last one chosen', () => {
    expect(placesIn(some).rows([at(1, 20)])).toHaveLength(24)
  })

  it('are drawn as far as without a plant whose number is too far along, which is told', () => {
    const slipped = placesIn([...some, plant('slip', { line: 1, number: 9_999 })])
    expect(slipped.rows([])).toEqual(placesIn(some).rows([]))
    expect([slipped.far.map(({ code }) => code), slipped.isGap(at(1, 4))]).toEqual([['slip'], false])
  })

  it('tell seedlings at a plant’s foot', () => {
    const [first] = placesIn([...some, plant('w', { beside: 'a' as PlantID })]).rows([])
    expect(first && 'spots' in first && first.spots.map(({ seedlings }) => seedlings)).toEqual([1, 0])
  })

  it('tell none at a plant that was moved away from them', () => {
    const moved = plant('m', { line: 1, number: 1, stood: [{ bed: b, line: 2, number: 9, from: '', until: '2026-01-01' as Day }] })
    const [first] = placesIn([moved, plant('w', { beside: 'm' as PlantID })]).rows([])
    expect(first && 'spots' in first && first.spots.map(({ seedlings }) => seedlings)).toEqual([0, 0])
  })
})

describe('the next free places', () => {
  it.each<[string, Place, number, string[]]>([
    ['are the gaps of its line, then of the lines after it, then behind the last of its line', at(1, 2), 3, ['1/2', '1/4', '1/5']],
    ['behind the last plant go on along the line', at(1, 4), 3, ['1/4', '1/5', '1/6']],
    ['in an empty line are one behind the other', at(3, 1), 2, ['3/1', '3/2']],
  ])('%s', (_, from, n, places) => {
    expect(written(placesIn(some, 3).nextFree(from, n))).toEqual(places)
  })

  it('take the gaps of other lines before they go beyond the bed’s plants', () => {
    const gapped = [plant('a', { line: 1, number: 4 }), plant('c', { line: 2, number: 3 })]
    expect(written(placesIn(gapped).nextFree(at(1, 3), 5))).toEqual(['1/3', '2/1', '2/2', '1/5', '1/6'])
  })
})

describe('choosing', () => {
  const picked = (...places: Place[]): Picked => ({ ...pickedIn(b), places })
  it.each<[string, Picked, Place, number, string[]]>([
    ['a place adds it', picked(at(1, 1)), at(1, 2), 3, ['1/1', '1/2']],
    ['it again lets go of it', picked(at(1, 1), at(1, 2)), at(1, 1), 3, ['1/2']],
    ['another changes nothing where all are chosen', picked(at(1, 1), at(1, 2)), at(1, 3), 2, ['1/1', '1/2']],
    ['another takes its stead where one is wanted', picked(at(1, 1)), at(1, 3), 1, ['1/3']],
  ])('%s', (_, before, place, wanted, after) => {
    expect(written(tapped(before, place, wanted).places)).toEqual(after)
  })

  it('is done when there are as many places as wanted, or none is told', () => {
    expect(placesOf(picked(at(1, 1)), 2)).toBeUndefined()
    expect(written(placesOf(picked(at(1, 1), at(1, 2)), 2) ?? [])).toEqual(['1/1', '1/2'])
    expect(written(placesOf({ ...picked(at(1, 1)), somewhere: true }, 2) ?? [])).toEqual(['0/0', '0/0'])
  })
})

it('a chosen place in which a plant stands is told with the plant, unless it leaves', () => {
  const told = (leaving: string[]) => placesIn(some, 2, leaving).clashes([at(1, 1), at(1, 2)]).map(({ place, plant: { code } }) => [written([place])[0], code])
  expect([told([]), told(['a'])]).toEqual([[['1/1', 'a']], []])
})

describe('places are looked for first in', () => {
  const [x, y] = ['x', 'y'] as [BedID, BedID]
  const stay = (bed: BedID) => ({ bed, line: 1, number: 1, from: '', until: '2026-01-01' as Day }) as const
  it.each<[string, BedID[], Partial<Plant>, BedID | '']>([
    ['the plant’s own bed', [x, b, y], {}, b],
    ['the bed that it was moved to', [x, b, y], { bed: y, stood: [stay(b)] }, y],
    ['the latest bed it stood in, where its own was taken away', [x, b], { bed: y, stood: [stay(b), stay(x)] }, x],
    ['one before, where that was taken away too', [x, b], { bed: y, stood: [stay(x), stay('z' as BedID)] }, x],
    ['the farm’s only bed, where nothing is known of its own', [x], { planting: 'later' as Plant['planting'] }, x],
    ['none that nobody chose, where the farm has several', [x, y], { planting: 'later' as Plant['planting'] }, ''],
    ['none in a farm without beds', [], {}, ''],
  ])('%s', (_, beds, told, begins) => {
    const farm = farmWith({ beds: beds.map((id) => bedWith({ id })), plantings: [plantingWith()] })
    expect(bedToBegin(farm, plant('k', told))).toBe(begins)
  })

  it('and until one is chosen, no place is told', () => {
    expect(placesOf({ ...pickedIn(''), somewhere: true }, 1)).toBeUndefined()
  })
})
