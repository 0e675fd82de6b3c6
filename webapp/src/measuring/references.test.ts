import { describe, expect, it } from 'vitest'
import type { ColourID, Day, PlantID, PlantingID, ReadingID, StockID } from '../crop/nouns'
import { colourWith, farmWith, plantingWith, plantWith, readingWith, stockWith } from '../crop/testing/nouns'
import { referencePlants, referencesBeside, suggestedReferences } from './references'

const today = '2026-06-03' as Day
const colours = [['white', '#f4f2ec'], ['red', '#ad2440'], ['pink', '#e6a3b4'], ['yellow', '#e8c93a']].map(([id, swatch]) => colourWith({ id: id as ColourID, swatch: swatch! }))
const plants = ['red', 'red', 'pink', 'yellow', 'white'].map((colour, i) => plantWith({ id: `p${i}` as PlantID, line: 1, number: i + 1, colour: colour as ColourID }))
const ids = (all: readonly { readonly id: string }[]) => all.map(({ id }) => id)

describe('reference plants that are suggested', () => {
  it('are three of unlike colours', () => {
    const suggested = suggestedReferences(farmWith({ plants, colours }), plants, today)
    expect(new Set(suggested.map(({ colour }) => colour)).size).toBe(3)
  })

  it('are unlike those that there are, and so many that there are three', () => {
    const yellow = { ...plants[3]!, reference: true }
    const all = plants.with(3, yellow)
    const suggested = suggestedReferences(farmWith({ plants: all, colours }), all, today)
    expect(suggested).toHaveLength(2)
    expect(suggested.map(({ colour }) => colour)).not.toContain('yellow')
  })

  it('are told apart by what was measured of them before what class they are', () => {
    const readings = [readingWith({ id: 'a' as ReadingID, plant: 'p1' as PlantID, lab: { L: 20, a: 0, b: -60 } })]
    expect(ids(suggestedReferences(farmWith({ plants, colours, readings }), plants, today))).toContain('p1')
  })

  it('are none of which no colour is known, and none where there are enough', () => {
    expect(suggestedReferences(farmWith({ plants: [plantWith()] }), [plantWith()], today)).toEqual([])
    const enough = plants.map((plant, i) => ({ ...plant, reference: i < 3 }))
    expect(suggestedReferences(farmWith({ plants: enough, colours }), enough, today)).toEqual([])
  })
})

it('reference plants of another crop tell nothing of this one, and are not counted', () => {
  const [yarrow, aster] = ['yarrow', 'aster'].map((species) => [stockWith({ id: species as StockID, species }), plantingWith({ id: species as PlantingID, stock: species as StockID })] as const)
  const asters = plants.map((plant, i) => ({ ...plant, id: `a${i}` as PlantID, planting: 'aster' as PlantingID, reference: true }))
  const yarrows = plants.map((plant, i) => ({ ...plant, planting: 'yarrow' as PlantingID, reference: i === 0 }))
  const farm = farmWith({ stocks: [yarrow![0], aster![0]], plantings: [yarrow![1], aster![1]], plants: [...yarrows, ...asters], colours })
  expect(ids(referencesBeside(farm, yarrows, today))).toEqual(['p0'])
  expect(suggestedReferences(farm, yarrows, today)).toHaveLength(2)
  expect(referencesBeside(farm, [yarrows[1]!, asters[1]!], today)).toHaveLength(6)
})

it('a reference plant that is gone is none any more', () => {
  const all = [plantWith({ id: 'a' as PlantID, reference: true }), plantWith({ id: 'b' as PlantID, reference: true, removed: '2026-05-01' as Day }), plantWith({ id: 'c' as PlantID })]
  expect(ids(referencePlants(farmWith({ plants: all }), today))).toEqual(['a'])
})
