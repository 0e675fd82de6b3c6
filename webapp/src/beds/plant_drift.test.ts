import { beforeAll, describe, expect, it } from 'vitest'
import type { PlantID, Season } from '../crop/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import type { ColourReport, PlantSeason, Power, Shift } from './colour_report'
import { driftMind, driftSentence, plantDrift } from './plant_drift'
import { colourReportWith, plantColourWith, plantSeasonWith, shiftWith } from './testing/colours'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const plant = 'p' as PlantID
const now = 2026 as Season

/** A drift of 6, twice the threshold, is noticed often enough from 4 photos over 2 days on. */
const power: Power[] = ([[1, 1, 0.1], [2, 2, 0.5], [4, 2, 0.85], [6, 3, 0.95]] as const)
  .map(([photos, days, noticed]) => ({ photos, days, size: 6, noticed, confirmed: noticed / 2 }))

const fading: Partial<Shift> = { total: { mean: 5.7, lo: 4.6, hi: 6.6 }, chroma: { value: -5.2, se: 0.6 }, lightness: { value: 2.4, se: 0.5 } }

function said(report: ColourReport | undefined, season = now) {
  const drift = plantDrift(report, plant, season)
  return { sentence: driftSentence(drift), mind: driftMind(drift) }
}

function judged(told: Partial<PlantSeason>, season = now) {
  return said(colourReportWith({ power, plant_seasons: [plantSeasonWith('p', { season: 2025 as Season, baseline: 2024 as Season }), plantSeasonWith('p', told), plantSeasonWith('q')] }), season)
}

const few: Partial<PlantSeason> = { state: 'cannot_tell', reasons: ['too_few_readings'], shift: shiftWith({ noticeable: 9.2 }) }

describe('the sentence on a plant’s drift', () => {
  it.each<[string, Partial<PlantSeason>, RegExp]>([
    ['shows no drift, with the one that would have been seen', {}, /^\*\*Shows no drift\*\*: in 2026 a drift of 4\.0 or more since 2025 would/],
    ['drifts, in what and by how much, and that it is confirmed', { state: 'drift', shift: shiftWith(fading) }, /^\*\*Its colour drifts\*\*: in 2026 it is \*\*paler by 5\.2 and lighter by 2\.4\*\* than in 2025, in all 5\.7 \(4\.6 to 6\.6\)\. Another day confirmed it\.$/],
    ['drifts, where no part of it is clear', { state: 'drift', shift: shiftWith({ total: { mean: 5, lo: 3, hi: 7 } }) }, /^\*\*Its colour drifts\*\*: in 2026 it is off by 5\.0 \(3\.0 to 7\.0\) since 2025\./],
    ['may drift, to be confirmed', { state: 'watch', reasons: ['one_day'], shift: shiftWith(fading) }, /^\*\*Its colour may drift\*\*.*paler by 5\.2.* Another day has to confirm it\.$/],
    ['lacks photos, as many as are missing of the season', { ...few, readings: 1, days: 1 }, /^\*\*Not enough photos yet\*\* .* About 3 more on another day, in full bloom/],
    ['lacks all photos of the season that could tell', { ...few, readings: 0, days: 0, reasons: ['no_full_bloom'] }, /About 4 more over 2 days, in full bloom/],
    ['has nothing that it could be held against', { ...few, readings: 0, baseline: 0 as Season, reasons: ['no_baseline', 'only_sun'], shift: null }, /^\*\*Not enough photos yet\*\*: no season has a good one .* About 4 over 2 days/],
    ['cannot be told, and why, where it is not photos that are lacking', { ...few, reasons: ['few_plants'] }, /^\*\*It cannot be told yet\*\* whether it kept its colour in 2026: few other plants/],
    ['cannot be told, and why, where there are as many photos as should do', { ...few, readings: 4 }, /cannot be told yet.*too few photos to see/],
    ['gives a reason of a later version as it stands', { ...few, reasons: ['hail'] }, /in 2026: hail\.$/],
  ])('says that it %s', (_, told, text) => {
    expect(judged(told).sentence).toMatch(text)
  })

  it('counts the photos of a whole season where the one that was judged is over', () => {
    expect(judged({ ...few, readings: 3 }, 2027 as Season).sentence).toMatch(/^\*\*Not enough photos in 2026\*\* .* About 4 in a season over 2 days/)
  })

  it('is of the newest season, and of a reference plant as of others', () => {
    const references = [plantSeasonWith('p', { state: 'drift', shift: shiftWith(fading) }), plantSeasonWith('p', { season: 2025 as Season })]
    expect(said(colourReportWith({ references })).sentence).toMatch(/^\*\*Its colour drifts\*\*/)
  })

  it.each<[string, ColourReport | undefined, RegExp]>([
    ['the shed was never asked', undefined, /^Whether it keeps its colour is worked out at the shed/],
    ['the shed knows no reading of it', colourReportWith({ colours: [plantColourWith('q', 2026, { L: 50, a: 20, b: 0 })] }), /^The shed has not answered for its readings yet\.$/],
    ['its first good season came after one in sun', colourReportWith({
      power, plant_seasons: [plantSeasonWith('p', { season: 2025 as Season, baseline: 0 as Season, readings: 0, state: 'cannot_tell', reasons: ['no_baseline', 'only_sun'], shift: null })],
      colours: [plantColourWith('p', 2025, { L: 50, a: 20, b: 0 }, { firm: 0 }), plantColourWith('p', 2026, { L: 50, a: 20, b: 0 })],
    }), /^\*\*First measured well in 2026\*\*: 2026 is what later seasons are held against/],
    ['it was measured in one season', colourReportWith({ colours: [plantColourWith('p', 2026, { L: 50, a: 20, b: 0 })] }), /^\*\*First measured in 2026\*\*/],
  ])('says so where %s', (_, report, text) => {
    expect(said(report)).toEqual({ sentence: expect.stringMatching(text), mind: '' })
  })
})

describe('beside the sentence', () => {
  it.each<[string, Partial<PlantSeason>, string]>([
    ['stands why another day is wanted', { state: 'watch', reasons: ['one_day'], shift: shiftWith(fading) }, 'Mind: it was photographed on one day, and another has to confirm it.'],
    ['stands what may have been missed', { ...few, readings: 1 }, 'Mind: there are too few photos to see a drift of ordinary size. A drift below 9.2 may have been missed.'],
    ['no reason stands twice', { ...few, reasons: ['few_plants'] }, 'A drift below 9.2 may have been missed.'],
    ['stands nothing where all is told', {}, ''],
  ])('%s', (_, told, mind) => {
    expect(judged(told).mind).toBe(mind)
  })
})
