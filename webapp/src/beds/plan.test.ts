import { describe, expect, it } from 'vitest'
import type { ColourID, Day, Farm, Plant, PlantID, Season } from '../crop/nouns'
import { addedIn, type AgeInGround, agesInGround, colourShares, drawIn, enoughFor, spreadOver, strataOf, verdictOf } from './plan'
import { halfOf, type Halves, type PlanTable } from './plan_table'
import { aimKey, minutesFor, plantsIn } from './plan_settings'

// A table whose half-widths are plain: sd times 1.645 over the square root of n, the surer the wider.
const axes = { level: 0.9, plants: [2, 10, 1000], assurance: [0.1, 0.5, 0.9] }
const halvesOf = (sd: number): Halves => axes.plants.map((n) => [0.8, 1, 1.2].map((by) => (by * 1.645 * sd) / Math.sqrt(n)))
const table = (...sds: number[]): PlanTable => ({ ...axes, ages: sds.map((sd, i) => ({ age: i + 1, from: i + 1, half: halvesOf(sd), reached: null })) })

const season = 2026 as Season
const day = '2026-05-01' as Day
const colours = ['ember', 'oyster', 'garnet', 'barley'] as ColourID[]

/** Plantings by bed, first season and number of plants; `counted` of them from the front. */
function farmOf(...plots: readonly { bed: string; first: number; n: number; counted?: number; species?: string; gone?: number }[]): Farm {
  const plants: [string, Plant][] = plots.flatMap(({ n, counted = 0, gone = 0 }, p) => Array.from({ length: n }, (_, i): [string, Plant] => {
    const id = `${p}-${i}` as PlantID
    const window = { from: '2026-01-01' as Day, to: '2026-12-31' as Day }
    return [id, {
      id, code: id, planting: `${p}`, line: 1, number: i + 1, colour: colours[(i * 7) % 4]!, removed: i >= n - gone ? '2025-10-01' : '',
      counted: new Map(i < counted ? [[season, window]] : []), parents: [], photos: [], photosAway: [],
    } as unknown as Plant]
  }))
  const plantings = plots.map(({ bed, first, species = 'yarrow' }, p) => [`${p}`, { id: `${p}`, stock: species, bed, planted: '', firstSeason: first }])
  return {
    plants: new Map(plants), plantings: new Map(plantings as never), visits: new Map(),
    beds: new Map(plots.map(({ bed }) => [bed, { id: bed, name: bed }]) as never),
    stocks: new Map(['yarrow', 'phlox'].map((one) => [one, { id: one, species: one }]) as never),
  } as unknown as Farm
}

const strata = (farm: Farm) => strataOf(farm, 'yarrow', season, day)

describe('the strata', () => {
  it('are the plantings of the species that stand in the ground, by bed', () => {
    const farm = farmOf({ bed: 'Well', first: 2026, n: 4, counted: 1 }, { bed: 'Gate', first: 2024, n: 5, gone: 2 },
      { bed: 'Elder', first: 2025, n: 3, species: 'phlox' }, { bed: 'Next', first: 2027, n: 3 }, { bed: 'Bare', first: 2025, n: 2, gone: 2 })
    expect(strata(farm).map((one) => [one.planting.bed, one.age, one.counted.length, one.uncounted.length])).toEqual([['Gate', 3, 0, 3], ['Well', 1, 1, 3]])
  })

  it('make ages of those that the table knows', () => {
    const ages = agesInGround(table(4, 16), strata(farmOf({ bed: 'A', first: 2025, n: 8, counted: 2 }, { bed: 'B', first: 2025, n: 5 }, { bed: 'C', first: 2020, n: 5 })))
    expect(ages.map(({ age, standing, counted }) => [age, standing, counted])).toEqual([[2, 13, 2]])
  })
})

const inGround = (of: PlanTable, ...ages: readonly (readonly [standing: number, counted: number])[]): AgeInGround[] =>
  ages.map(([standing, counted], i) => ({ age: i + 1, standing, counted, expected: of.ages[i]! }))

describe('from the minutes', () => {
  it('gives each plant to the age known worst, so that no other spread is better for the worst', () => {
    const of = table(4, 16, 9)
    const ages = inGround(of, [200, 0], [150, 0], [80, 0])
    const chosen = spreadOver(of, ages, 60, 0.9)
    expect(chosen.reduce((a, b) => a + b)).toBe(60)
    const worst = (numbers: readonly number[]) => Math.max(...numbers.map((n, i) => halfOf(of, ages[i]!.expected.half, n, ages[i]!.standing, 0.9)))
    for (let a = 0; a <= 60; a++) {
      for (let b = 0; a + b <= 60; b++) expect(worst([a, b, 60 - a - b])).toBeGreaterThanOrEqual(worst(chosen) - 1e-12)
    }
  })

  it.each<[string, [number, number][], number, number[]]>([
    ['two of each age come first', [[200, 0], [150, 0]], 4, [2, 2]],
    ['what is counted stays, though another age is known worse', [[200, 30], [150, 0]], 31, [30, 1]],
    ['what is counted stays, though it is more than the minutes allow', [[200, 30], [150, 5]], 10, [30, 5]],
    ['no more than stand', [[6, 0], [4, 0]], 50, [6, 4]],
    ['nothing from no minutes', [[6, 0], [4, 0]], 0, [0, 0]],
  ])('%s', (_, numbers, plants, want) => {
    const of = table(4, 16)
    expect(spreadOver(of, inGround(of, ...numbers), plants, 0.9)).toEqual(want)
  })

  it('is the other way round from the precision', () => {
    const of = table(4, 16, 9)
    const ages = inGround(of, [200, 0], [150, 0], [80, 0])
    const wanted = enoughFor(of, ages, 2.5, 0.9)
    expect(spreadOver(of, ages, wanted.reduce((a, b) => a + b), 0.9)).toEqual(wanted)
  })
})

describe('over the beds', () => {
  const over = (wanted: number, ...plots: { n: number; counted?: number }[]) =>
    addedIn(strata(farmOf(...plots.map((plot, i) => ({ bed: `${i}`, first: 2025, ...plot })))), new Map([[2, wanted]]))
  it.each<[string, number[], number[]]>([
    ['each by its size', over(18, { n: 72 }, { n: 60 }, { n: 12 }), [9, 7, 2]],
    ['none is left out that can have one', over(3, { n: 100 }, { n: 20 }, { n: 5 }), [1, 1, 1]],
    ['those counted already are its share', over(18, { n: 72, counted: 16 }, { n: 60 }), [0, 2]],
    ['no more than stand', over(99, { n: 5, counted: 2 }, { n: 4 }), [3, 4]],
  ])('%s', (_, added, want) => {
    expect(added).toEqual(want)
  })
})

describe('drawing', () => {
  const farm = farmOf({ bed: 'Gate', first: 2025, n: 72 }, { bed: 'Pump', first: 2025, n: 60, counted: 4 })
  const of = strata(farm)
  it('is the same again from the same seed, and spread along each bed', () => {
    const drawn = drawIn(of, [9, 7], 48_213)
    expect(drawIn(of, [9, 7], 48_213)).toEqual(drawn)
    expect(drawIn(of, [9, 7], 48_214)).not.toEqual(drawn)
    expect(drawn[0]!.map((plant) => Math.floor((plant.number - 1) / 8))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8])
    expect(drawn[1]!.every((plant) => !plant.counted.has(season))).toBe(true)
  })

  it('says how many of each colour class are counted, none being a stratum', () => {
    const drawn = drawIn(of, [36, 0], 5)
    const shares = colourShares(of, drawn)
    expect(shares.map(({ standing }) => standing)).toEqual([33, 33, 33, 33])
    expect(shares.reduce((n, share) => n + share.counted, 0)).toBe(40)
    for (const share of shares) expect(share.counted).toBeGreaterThan(0)
  })
})

describe('after the flush', () => {
  const next = halvesOf(16)
  it.each<[string, Parameters<typeof verdictOf>[1], number, number, ReturnType<typeof verdictOf>]>([
    ['met', { plants: 100, half: 2.4, next }, 1e9, 3, { met: 'yes', half: 2.4, more: 0 }],
    ['met thanks to the plants being few', { plants: 75, half: 5, next }, 100, 3, { met: 'yes', half: 2.5, more: 0 }],
    // 1.2 * 1.645 * 16 / sqrt(n) <= 3 from n = 111 on.
    ['not met, and how many more', { plants: 60, half: 4, next }, 1e9, 3, { met: 'no', half: 4, more: 51 }],
    ['cannot be told from one plant', { plants: 1, half: null, next: null }, 50, 3, { met: 'unknown' }],
    ['all are counted, those gone since too', { plants: 52, half: 4, next }, 50, 3, { met: 'yes', half: 0, more: 0 }],
  ])('%s', (_, reached, standing, wanted, want) => {
    const got = verdictOf(table(), reached, standing, wanted, 0.9)
    expect(got.met).toBe(want.met)
    if (got.met !== 'unknown' && want.met !== 'unknown') {
      expect(got.half).toBeCloseTo(want.half, 3)
      expect(got.more).toBe(want.more)
    }
  })
})

it.each([[10, 8, 75], [1, 7, 8], [0, 8, 0]])('%d minutes at %d seconds are enough for %d plants', (minutes, seconds, plants) => {
  expect(plantsIn(minutes, { seconds })).toBe(plants)
  expect(minutesFor(plants, { seconds })).toBe(minutes)
})

it('an aim is of one species, season and age', () => {
  expect(new Set([aimKey('a', season, 1), aimKey('b', season, 1), aimKey('a', 2025 as Season, 1), aimKey('a', season, 2)]).size).toBe(4)
})
