// Which plants the stand's page is about, and the sentences that lead it.

import { beforeAll, describe, expect, it } from 'vitest'
import type { BedID, Day, PlantID, PlantingID, Season } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, readingWith, stockWith } from '../crop/testing/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import type { ColourReport, StandShift } from './colour_report'
import { arrowOf, plantsSentence, standSentence } from './colour_sentence'
import { colourStand, standingOf } from './colour_stand'
import type { SpeciesColour } from './colours'
import { unknownReadings } from './plant_colours'
import { colourReportWith, plantColourWith, plantSeasonWith, shiftWith } from './testing/colours'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const day = '2026-11-30' as Day
const now = 2026 as Season
const pink = { L: 60, a: 30, b: 10 }
const plant = (id: string, told = {}) => plantWith({ id: id as PlantID, code: id, ...told })
const farmOf = (...plants: ReturnType<typeof plant>[]) => farmWith({
  beds: [bedWith({ id: 'b' as BedID, name: 'Two' }), bedWith({ id: 'a' as BedID, name: 'One' })], stocks: [stockWith({ species: 'yarrow' })],
  plantings: [plantingWith(), plantingWith({ id: 'g2' as PlantingID, bed: 'a' as BedID })], plants,
})
const standOf = (report: Partial<ColourReport>, ...plants: ReturnType<typeof plant>[]) => colourStand(farmOf(...plants), colourReportWith(report), day)

describe('the stand', () => {
  it('is that of the newest season in which anything was measured, as it is walked, without plants that are gone', () => {
    const stand = standOf(
      { colours: [plantColourWith('p', 2026, pink), plantColourWith('q', 2026, pink), plantColourWith('gone', 2026, pink), plantColourWith('old', 2025, pink), plantColourWith('unknown', 2026, pink)] },
      plant('p', { line: 1, number: 2 }), plant('q', { planting: 'g2', line: 1, number: 1 }), plant('gone', { removed: '2026-08-01' }), plant('old'),
    )
    expect(stand?.season).toBe(2026)
    expect(stand?.plants.map(({ plant: { code } }) => code)).toEqual(['q', 'p'])
  })

  it('keeps reference plants apart', () => {
    const stand = standOf({ colours: [plantColourWith('p', 2026, pink), plantColourWith('r', 2026, pink)] }, plant('p'), plant('r', { reference: true }))
    expect([stand?.plants.length, stand?.references.length]).toEqual([1, 1])
  })

  it('is none where nothing was measured', () => {
    expect(standOf({}, plant('p'))).toBeUndefined()
  })

  it('says of each what the shed says of that season, and of one that the shed says nothing of that it is new', () => {
    const stand = standOf(
      { colours: ['p', 'q'].map((id) => plantColourWith(id, 2026, pink)), plant_seasons: [plantSeasonWith('p', { state: 'drift' }), plantSeasonWith('q', { season: 2025 as Season, state: 'watch' })] },
      plant('p'), plant('q'),
    )
    expect(stand?.plants.map(({ state }) => state)).toEqual(['drift', 'first'])
  })
})

it('lists the plants of a crop that stand', () => {
  const farm = farmOf(plant('p'), plant('gone', { removed: '2026-08-01' }), plant('other', { planting: 'none' }))
  expect(standingOf(farm, 'yarrow', day).map(({ code }) => code)).toEqual(['p'])
})

const states = (...all: (string | undefined)[]) => {
  const ids = all.map((_, i) => `p${i}`)
  const stand = standOf(
    { colours: ids.map((id) => plantColourWith(id, 2026, pink)), plant_seasons: ids.flatMap((id, i) => (all[i] === undefined ? [] : [plantSeasonWith(id, { state: all[i] as 'none' })])) },
    ...ids.map((id) => plant(id)),
  )
  return plantsSentence(stand!, now)
}

describe('the sentence on plants', () => {
  it.each<[string, string, string]>([
    ['all kinds', states('drift', 'watch', 'cannot_tell', 'cannot_tell', 'none', undefined), 'Of **6 plants** measured this season **1 has drifted**, 1 is to be watched, 2 cannot be told, 1 was measured well for the first time and 1 would have shown a drift and shows none.'],
    ['no drift, only of those that would have shown one', states('none', 'none', 'cannot_tell'), 'Of **3 plants** measured this season none is seen to have drifted, 1 cannot be told and 2 would have shown a drift and show none.'],
    ['a first season', states(undefined, undefined), '**2 plants** were measured in 2026, each well for the first time: the next season shows whether they hold their colour.'],
    ['a first season of one plant', states(undefined), '**1 plant** was measured in 2026, well for the first time: the next season shows whether it holds its colour.'],
  ])('says %s', (_, said, wanted) => {
    expect(said.replace(', and', ' and')).toBe(wanted)
  })

  it.each<[string, ReturnType<typeof plant>, RegExp]>([
    ['reference plants alone were measured', plant('p', { reference: true }), /^In 2026 reference plants alone were measured\.$/],
    ['all that was measured is lifted', plant('p', { removed: '2026-08-01' }), /^Of the plants measured in 2026 none stands any more\.$/],
  ])('says that %s', (_, only, said) => {
    expect(plantsSentence(standOf({ colours: [plantColourWith('p', 2026, pink)] }, only)!, now)).toMatch(said)
  })

  it('names a season that is not this one', () => {
    const stand = standOf({ colours: [plantColourWith('p', 2025, pink)], plant_seasons: [plantSeasonWith('p', { season: 2025 as Season })] }, plant('p'))
    expect(plantsSentence(stand!, now)).toMatch(/^Of \*\*1 plant\*\* measured in 2025/)
  })
})

describe('the sentence on the stand', () => {
  const shift = (told: Partial<StandShift>): StandShift => ({
    season: now, since: 2024 as Season, told: true, shift: { l: 0, a: -4, b: -1.3 }, total: { mean: 2.1, lo: 1.4, hi: 2.8 }, p: 0.0001, moved: true, ...told,
  })
  const say = (told: Partial<StandShift> | undefined) => {
    const stand = standOf({ colours: [plantColourWith('p', 2026, pink)], stand: told ? [shift(told)] : [] }, plant('p'))
    return standSentence(stand!)
  }
  it.each<[string, Partial<StandShift> | undefined, RegExp]>([
    ['is paler by about 2, which may be the weather', {}, /^The \*\*whole stand\*\* is \*\*paler by [12]\.\d\*\* than in 2024 \(in all 1\.4 to 2\.8\), which may be the weather\.$/],
    ['shows no visible change, as the shed says, and what its interval is', { moved: false }, /^The stand as a whole shows no visible change since 2024: it lies 2\.1 from it \(1\.4 to 2\.8, which holds 90 in 100\)\.$/],
    ['cannot be told without reference plants', { told: false, p: 1e-9, moved: false }, /cannot be told: too few reference plants/],
    ['is not spoken of in its first season', undefined, /^$/],
  ])('says that it %s', (_, told, said) => {
    expect(say(told)).toMatch(said)
  })
})

it('draws drift from where the plant would be, had it changed as the rest did', () => {
  const stand = standOf({ colours: [plantColourWith('p', 2026, pink)], plant_seasons: [plantSeasonWith('p', { shift: shiftWith({ by: { l: 2, a: -10, b: 1 } }) })] }, plant('p'))
  expect(arrowOf(stand!.plants[0]!)).toEqual({ from: { L: 58, a: 40, b: 9 }, to: pink })
})

describe('readings that the answer does not know', () => {
  const readings = ['1', '2', '3'].map((id) => readingWith({ id: id as never }))
  const farm = farmWith({ readings, plants: [plant('p')] })
  const told = (n: number): Pick<SpeciesColour, 'report'> => ({ report: colourReportWith({ colours: [plantColourWith('p', 2026, pink, { readings: n })] }) })
  it.each<[string, number, { newer: number; gone: number }]>([
    ['are none where it knows all', 3, { newer: 0, gone: 0 }], ['are newer', 2, { newer: 1, gone: 0 }], ['are gone since', 5, { newer: 0, gone: 2 }],
  ])('%s', (_, n, found) => {
    expect(unknownReadings(farm, told(n), ['p' as PlantID])).toEqual(found)
  })

  it('are not those of plants that are not asked about, as of one that was lifted', () => {
    const report = colourReportWith({ colours: [plantColourWith('p', 2026, pink, { readings: 3 }), plantColourWith('lifted', 2026, pink)] })
    expect(unknownReadings(farm, { report }, ['p' as PlantID])).toEqual({ newer: 0, gone: 0 })
  })
})
