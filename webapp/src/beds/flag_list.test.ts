import { describe, expect, it } from 'vitest'
import type { BedID, Day, Flag, FlagKind, PlantID, PlantingID, StockID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith } from '../crop/testing/nouns'
import { bedByBed, countsByKind, flaggedGone, flaggedIn, protectedAmong } from './flag_list'

const day = '2026-06-03' as Day
const flags = (...kinds: FlagKind[]): Flag[] => kinds.map((kind) => ({ kind, day, by: '' }))
const planting = (id: string, bed: string, stock: string) => plantingWith({ id: id as PlantingID, bed: bed as BedID, stock: stock as StockID })
const plant = (id: string, at: [string, number, number], ...kinds: FlagKind[]) =>
  plantWith({ id: id as PlantID, code: id, planting: at[0] as PlantingID, line: at[1], number: at[2], flags: flags(...kinds) })

const farm = farmWith({
  beds: [bedWith({ id: 'b10' as BedID, name: 'Bed 10' }), bedWith({ id: 'b2' as BedID, name: 'Bed 2' })],
  stocks: [stockWith({ id: 'free' as StockID }), stockWith({ id: 'kept' as StockID, protected: true }), stockWith({ id: 'divided' as StockID, from: 'kept' as StockID })],
  plantings: [planting('g2', 'b2', 'free'), planting('g10', 'b10', 'kept'), planting('g9', 'b9', 'free')],
  plants: [
    plant('a', ['g10', 1, 1], 'divide'), plant('b', ['g2', 2, 1], 'divide', 'lift'), plant('c', ['g2', 2, 3], 'divide'), plant('d', ['g2', 1, 4], 'divide'),
    plant('e', ['g2', 1, 5]), plant('f', ['g9', 1, 1], 'lift'), { ...plant('g', ['g2', 1, 6], 'lift'), removed: '2026-05-01' as Day },
  ],
})
const codes = (bed?: string) => flaggedIn(farm, bed as BedID | undefined, day).map(({ code }) => code)

describe('the list of flags', () => {
  it('holds the plants that stand with one, of all beds or of one', () => {
    expect(codes()).toEqual(['a', 'b', 'c', 'd', 'f'])
    expect(codes('b2')).toEqual(['b', 'c', 'd'])
  })

  it('counts apart those at plants that are gone', () => {
    expect(flaggedGone(farm, undefined, day)).toBe(1)
    expect(flaggedGone(farm, 'b10' as BedID, day)).toBe(0)
  })

  it('counts each kind', () => {
    const counts = countsByKind(flaggedIn(farm, undefined, day))
    expect([...counts].filter(([, n]) => n > 0)).toEqual([['divide', 4], ['lift', 2]])
    expect(counts.size).toBe(8)
  })

  it('is walked bed by bed, up one line and down the next, what stands in no known bed last', () => {
    const walked = bedByBed(farm, flaggedIn(farm, undefined, day))
    expect(walked.map(({ bed, plants }) => [bed?.name, plants.map(({ code }) => code).join('')])).toEqual([['Bed 2', 'dcb'], ['Bed 10', 'a'], [undefined, 'f']])
  })

  it('tells which may not be propagated, what came of a protected stock too', () => {
    const plants = [...farm.plants.values(), plant('k', ['divided', 1, 1], 'divide')]
    const plantings = new Map(farm.plantings).set('divided' as PlantingID, planting('divided', 'b2', 'divided'))
    expect([...protectedAmong({ ...farm, plantings }, plants)]).toEqual(['a', 'k'])
  })
})
