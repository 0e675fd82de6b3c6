import { describe, expect, it } from 'vitest'
import type { Lab } from '../colour/lab'
import type { ColourID, Day, PlantID, PlantingID, Season } from '../crop/nouns'
import { colourWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { colourOf } from './colour_report'
import { classed, leftIn, sharesOf } from './colour_shares'
import { coloursBySeason } from './plant_colours'
import { plantColourWith } from './testing/colours'

const season = 2026 as Season
const rose: Lab = { L: 50, a: 40, b: 10 }
const cream: Lab = { L: 88, a: 0, b: 20 }
/** As far from rose as from pink. */
const between: Lab = { L: 50, a: 32.44, b: 7.3 }
const seen = (...all: [number, string][]) => new Map(all.map(([year, what]) => [year as Season, { day: `${year}-06-01` as Day, what: what as ColourID }]))
const plant = (id: string, told = {}) => plantWith({ id: id as PlantID, code: id, ...told })
const farmOf = (...plants: ReturnType<typeof plant>[]) => farmWith({
  colours: [colourWith({ id: 'rose' as ColourID, lab: rose }), colourWith({ id: 'pink' as ColourID, lab: { L: 50, a: 26, b: 5 } }), colourWith({ id: 'cream' as ColourID, lab: cream }), colourWith({ id: 'eye' as ColourID })],
  plantings: [plantingWith(), plantingWith({ id: 'old' as PlantingID, firstSeason: 2024 as Season }), plantingWith({ id: 'next' as PlantingID, firstSeason: 2027 as Season })], plants,
})
const measured = (...all: [string, number, Lab][]) => coloursBySeason({ colours: all.map(([id, year, lab]) => plantColourWith(id, year, lab)) })

describe('shares', () => {
  const plants = [
    plant('a'), plant('b', { planting: 'old' }), plant('c', { colour: 'rose', colours: seen([2025, 'rose']) }), plant('d', { colours: seen([2026, 'eye']), planting: 'old' }),
    plant('e'), plant('f'), plant('g'), plant('h', { planting: 'next' }), plant('i', { planting: 'not here' }),
  ]
  const shares = sharesOf(classed(farmOf(...plants), plants, season, measured(['a', 2026, rose], ['b', 2026, rose], ['e', 2026, between], ['f', 2026, { L: 20, a: 0, b: 0 }])))
  const rows = shares.rows.map(({ kind, colour, n, measured: by, byAge }) => [kind, colour ?? '', n, by, [...byAge]])

  it('count each plant once, by class and age, the measured apart, and say what is in none', () => {
    expect(rows).toEqual([
      ['class', 'rose', 3, 2, [[1, 2], [3, 1]]],
      ['class', 'eye', 1, 0, [[3, 1]]],
      ['between', '', 1, 1, [[1, 1]]],
      ['none', '', 1, 1, [[1, 1]]],
      ['unseen', '', 2, 0, [[1, 1], [0, 1]]],
    ])
    expect(shares.rows.reduce((sum, { n }) => sum + n, 0)).toBe(shares.n)
  })

  it('tell a plant that was measured while no class has a measured colour from one that was never seen', () => {
    const farm = farmWith({ colours: [colourWith({ id: 'eye' as ColourID })], plantings: [plantingWith()], plants: [plant('a'), plant('b'), plant('c')] })
    const { rows: all } = sharesOf(classed(farm, [...farm.plants.values()], season, measured(['a', 2026, rose], ['b', 2027, rose])))
    expect(all.map(({ kind, n, measured: by }) => [kind, n, by])).toEqual([['classless', 1, 1], ['unseen', 2, 0]])
  })

  it('leave out what is not in its first season yet, and tell the ages that there are', () => {
    expect([shares.n, shares.ages]).toEqual([8, [0, 1, 3]])
  })
})

describe('who left their class', () => {
  const left = (told: ReturnType<typeof plant>, ...colours: [string, number, Lab][]) => {
    const { measured: by, byEye, between: untold } = leftIn(farmOf(told), [told], season, measured(...colours))
    return { measured: by.length, byEye: byEye.length, between: untold }
  }
  it.each<[string, ReturnType<typeof plant>, [string, number, Lab][], Partial<ReturnType<typeof left>>]>([
    ['one measured in another class', plant('a'), [['a', 2025, rose], ['a', 2026, cream]], { measured: 1 }],
    ['one measured in no class any more', plant('a'), [['a', 2025, rose], ['a', 2026, { L: 20, a: 0, b: 0 }]], { measured: 1 }],
    ['none that stayed', plant('a'), [['a', 2025, rose], ['a', 2026, rose]], {}],
    ['one whose class before is older', plant('a'), [['a', 2023, rose], ['a', 2026, cream]], { measured: 1 }],
    ['one that was seen by eye before, apart', plant('a', { colours: seen([2025, 'rose']) }), [['a', 2026, cream]], { byEye: 1 }],
    ['one that lies between two now, as untold', plant('a'), [['a', 2025, cream], ['a', 2026, between]], { between: 1 }],
    ['none that was not seen this season', plant('a', { colours: seen([2024, 'rose'], [2025, 'cream']) }), [], {}],
    ['none of which nobody said when', plant('a', { colour: 'cream' }), [['a', 2026, rose]], {}],
  ])('counts %s', (_, told, colours, found) => {
    expect(left(told, ...colours)).toEqual({ measured: 0, byEye: 0, between: 0, ...found })
  })
})

it('takes a colour as it travels for what it is', () => {
  expect(colourOf(plantColourWith('a', 2026, rose, { se: 2 }))).toEqual({ lab: rose, cov: { LL: 4, La: 0, Lb: 0, aa: 4, ab: 0, bb: 4 } })
})
