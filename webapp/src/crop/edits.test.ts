import { describe, expect, it } from 'vitest'
import { bedEdits, holdsBed, lastLineUsed, stockEdits } from './edits'
import type { BedID, Day, Farm, Millimetres, PlantID } from './nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from './testing/nouns'

const bed = 'b' as BedID

describe('changing a bed or a stock', () => {
  it.each([
    ['nothing where nothing changed', bedEdits(bedWith(), bedWith()), []],
    ['the field that changed alone', bedEdits(bedWith({ lines: 4 }), bedWith({ lines: 5 })), ['lines=5']],
    ['a measure that is taken away', bedEdits(bedWith({ length: 9000 as Millimetres }), bedWith()), ['length=0']],
    ['an accent as one character', stockEdits(stockWith(), stockWith({ name: 'e\u0301' })), ['name=\u00e9']],
    ['that a stock is protected, and that it is not any more', [
      ...stockEdits(stockWith(), stockWith({ protected: true })), ...stockEdits(stockWith({ protected: true }), stockWith()),
    ], ['protected=1', 'protected=0']],
  ])('says %s', (_, facts, said) => {
    expect(facts.map(({ field, value }) => `${field}=${value}`)).toEqual(said)
  })
})

describe('a bed that is to be taken away', () => {
  const planted = { beds: [bedWith()], plantings: [plantingWith()] }
  const cases: [string, Farm, string | undefined][] = [
    ['is empty where nothing ever stood in it', farmWith({ beds: [bedWith()] }), undefined],
    ['holds plants', farmWith({ ...planted, plants: [plantWith()] }), 'plants'],
    ['holds the history of plants that are gone', farmWith({ ...planted, plants: [plantWith({ removed: '2026-01-01' as Day })] }), 'history'],
    ['holds a planting', farmWith(planted), 'history'],
    ['holds a plant that was moved in', farmWith({ plantings: [plantingWith({ bed: 'other' as BedID })], plants: [plantWith({ bed })] }), 'plants'],
    ['holds where a plant stood', farmWith({ plants: [plantWith({ bed: 'other' as BedID, stood: [{ bed, line: 1, number: 1, from: '', until: '2026-01-01' as Day }] })] }), 'history'],
    ['holds its bench totals', farmWith({ beds: [bedWith()], visits: [visitWith({ bed })] }), 'history'],
    ['is empty where only another bed has plants', farmWith({ plantings: [plantingWith({ bed: 'other' as BedID })], plants: [plantWith()] }), undefined],
  ]
  it.each(cases)('%s', (_, farm, holds) => {
    expect(holdsBed(farm, bed)).toBe(holds)
  })
})

it('the last line used is of plants that stand', () => {
  const plants = [
    plantWith({ id: 'a' as PlantID, line: 2 }), plantWith({ id: 'c' as PlantID, line: 5, removed: '2026-01-01' as Day }),
    plantWith({ id: 'd' as PlantID, line: 9, bed: 'other' as BedID }),
  ]
  expect(lastLineUsed(farmWith({ plantings: [plantingWith()], plants }), bed)).toBe(2)
})
