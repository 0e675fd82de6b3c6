import { describe, expect, it } from 'vitest'
import type { Lab } from '../colour/lab'
import type { BedID, ColourID, Day, Flag, FlagKind, Plant, PlantID, PlantingID, Season, StockID } from '../crop/nouns'
import { bedWith, colourWith, farmWith, plantingWith, plantWith, stockWith } from '../crop/testing/nouns'
import type { PlantWorth } from './ages_report'
import { type Lists, proposals, type Why } from './colour_lists'
import type { State } from './colour_report'
import { colourStand } from './colour_stand'
import type { WholeSeason } from './peers'
import { colourReportWith, plantColourWith, plantSeasonWith } from './testing/colours'

const day = '2026-11-30' as Day
const rose: Lab = { L: 50, a: 40, b: 10 }
const cream: Lab = { L: 88, a: 0, b: 20 }
const nowhere: Lab = { L: 20, a: 0, b: 0 }
const flags = (...kinds: FlagKind[]): Flag[] => kinds.map((kind) => ({ kind, day, by: '' }))

interface Told {
  readonly plant?: Partial<Plant>
  readonly lab?: Lab
  readonly state?: State
  /** Among others of its age that gave 10 to 19; below 0 it was not counted. */
  readonly stems?: number
  readonly worth?: PlantWorth
  readonly stock?: { readonly protected?: boolean; readonly from?: StockID }
  readonly firstSeason?: number
  readonly wanted?: readonly string[]
  /** No class has a measured colour. */
  readonly byEye?: boolean
}

/** The lists of a farm with the one plant that is told. A good one, where nothing else is said. */
function listsOf({ plant = {}, lab = rose, state = 'none', stems = 18, worth, stock = {}, firstSeason = 2024, wanted = [], byEye = false }: Told): Lists {
  const one = plantWith({ id: 'p' as PlantID, code: 'P', ...plant })
  const farm = farmWith({
    beds: [bedWith({ id: 'b' as BedID })], stocks: [stockWith({ species: 'yarrow', ...stock })],
    plantings: [plantingWith({ firstSeason: firstSeason as Season }), plantingWith({ id: 'other' as PlantingID })], plants: [one],
    colours: [colourWith({ id: 'rose' as ColourID, ...(!byEye && { lab: rose }) }), colourWith({ id: 'cream' as ColourID, ...(!byEye && { lab: cream }) }), colourWith({ id: 'eye' as ColourID })],
  })
  const isMeasured = !('unmeasured' in plant)
  const report = colourReportWith({
    colours: [...(isMeasured ? [plantColourWith('p', 2026, lab)] : []), plantColourWith('elsewhere', 2026, rose)],
    plant_seasons: isMeasured && state !== undefined ? [plantSeasonWith('p', { state })] : [],
  })
  const age = 2026 - firstSeason + 1
  const season = (id: string, n: number): WholeSeason => ({ plant: id as PlantID, code: id, species: 'yarrow', season: 2026 as Season, age, stems: n })
  const seasons = [...Array.from({ length: 10 }, (_, i) => season(`o${i}`, 10 + i)), ...(stems < 0 ? [] : [season('p', stems)])]
  const stand = colourStand(farm, report, day) ?? { season: 2026 as Season, level: 0.9, plants: [], references: [], shift: undefined, colours: new Map() }
  return proposals({ farm, plants: [one], stand, seasons, worthOf: () => worth, wanted: new Set(wanted as ColourID[]) })
}

function listOf(told: Told): string {
  const { of, unknown } = listsOf(told)
  const found = Object.entries(of).filter(([, all]) => all.length > 0).map(([name]) => name)
  return found[0] ?? (unknown > 0 ? 'unknown' : 'none')
}

const unmeasured = { unmeasured: true } as unknown as Partial<Plant>
const uncounted = -1

describe('a plant', () => {
  it.each<[string, Told, string]>([
    ['that holds a wanted colour, is old enough and gives most, is divided', {}, 'divide'],
    ['that has just come, is kept', { firstSeason: 2026 }, 'mother'],
    ['that gives as much as others, is kept', { stems: 14 }, 'mother'],
    ['of protected stock is never divided', { stock: { protected: true } }, 'mother'],
    ['of stock whose origin is not known here is never divided', { stock: { from: 'not here' as StockID } }, 'mother'],
    ['that drifted within its class, is not proposed', { state: 'drift' }, 'none'],
    ['that drifted out of all classes, is lifted', { state: 'drift', lab: nowhere }, 'lift'],
    ['that drifted and gives little, is lifted', { state: 'drift', stems: 9 }, 'lift'],
    ['of no class that gives little, is lifted', { lab: nowhere, stems: 9 }, 'lift'],
    ['of no class that gives most, stays as it is', { lab: nowhere }, 'none'],
    ['of a class that is not wanted, stays as it is', { wanted: ['cream'] }, 'none'],
    ['of a wanted class, is divided', { wanted: ['rose', 'cream'] }, 'divide'],
    ['of no class that is known, is divided where every class will do', { byEye: true }, 'divide'],
    ['of no class that is known, is to be looked at first where a class is wanted', { byEye: true, wanted: ['rose'] }, 'measure'],
    ['of a class that is not wanted and gives little, is lifted', { wanted: ['cream'], stems: 9 }, 'lift'],
    ['that gives little and holds its colour, stays as it is', { stems: 9 }, 'none'],
    ['flagged to be lifted, is', { plant: { flags: flags('lift') } }, 'lift'],
    ['that is ill and gives little, is lifted', { plant: { flags: flags('disease') }, stems: 9 }, 'lift'],
    ['that is ill, is not divided', { plant: { flags: flags('disease') } }, 'none'],
    ['that was weak this spring, is not divided', { plant: { stands: new Map([[2026 as Season, { day, what: 'weak' as const }]]) } }, 'none'],
    ['kept as a mother that drifted, is in doubt', { plant: { flags: flags('mother') }, state: 'drift' }, 'doubt'],
    ['to be divided that gives little, is in doubt', { plant: { flags: flags('divide') }, stems: 9 }, 'doubt'],
    ['that cannot be told, is to be measured first', { state: 'cannot_tell' }, 'measure'],
    ['that is to be watched, is to be measured first', { state: 'watch' }, 'measure'],
    ['that was never counted, is to be counted first', { stems: uncounted }, 'measure'],
    ['never measured that gives most, is to be measured first', { plant: unmeasured }, 'measure'],
    ['never measured and kept as a mother, is to be measured first', { plant: { ...unmeasured, flags: flags('mother') }, stems: uncounted }, 'measure'],
    ['of which nothing is known, is passed over', { plant: unmeasured, stems: uncounted }, 'unknown'],
    ['never measured that gives as much as others, is passed over', { plant: unmeasured, stems: 14 }, 'unknown'],
    ['judged by the model where it was not compared, is divided', { stems: uncounted, worth: { times: { mean: 1.6, lo: 1.2, hi: 2 }, best_tenth: 0.5 } as PlantWorth }, 'divide'],
    ['that the model says gives less, is not', { stems: uncounted, worth: { times: { mean: 0.6, lo: 0.4, hi: 0.9 }, best_tenth: 0 } as PlantWorth }, 'none'],
    ['not yet in its first season, is passed over', { firstSeason: 2027, plant: unmeasured, stems: uncounted }, 'none'],
  ])('%s', (_, told, list) => {
    expect(listOf(told)).toBe(list)
  })

  it('that was measured for the first time is not proposed yet', () => {
    const { of } = listsOf({ state: 'first' as State })
    expect(of.measure[0]?.reasons.map(({ why }) => why)).toContain('first_season')
  })

  it('of a class by eye is taken at the eye’s word where the class has no measured colour', () => {
    const seen = new Map([[2026 as Season, { day, what: 'eye' as ColourID }]])
    expect(listOf({ plant: { colour: 'eye' as ColourID, colours: seen }, lab: nowhere })).toBe('divide')
    expect(listOf({ plant: { colour: 'eye' as ColourID, colours: seen, ...unmeasured }, stems: uncounted })).toBe('unknown')
  })
})

it('tells every reason of a proposal', () => {
  const { of } = listsOf({ plant: { flags: flags('mother', 'open_centre'), reference: false }, stock: { protected: true } })
  const whys: Why[] = ['class', 'steady', 'stems_many', 'protected', 'flag_mother', 'flag_open_centre']
  expect(of.mother[0]?.reasons.map(({ why }) => why)).toEqual(whys)
})
