import { beforeAll, describe, expect, it } from 'vitest'
import { hexOf } from '../colour/shown'
import type { PlantClass } from '../crop/colour_class'
import type { ColourID, Season } from '../crop/nouns'
import { colourWith, farmWith } from '../crop/testing/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import { beyondScreen, classSwatch, classText, hueDirection, missedText, partsText, reasonText, stateText, toldParts } from './colour_words'
import { plantSeasonWith, shiftWith } from './testing/colours'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const hue = (degrees: number) => ({ L: 60, a: 30 * Math.cos((degrees * Math.PI) / 180), b: 30 * Math.sin((degrees * Math.PI) / 180) })

describe('a turn of the hue', () => {
  it.each<[string, number, number, string]>([
    ['from pink on is yellower', 10, 1, 'yellower'],
    ['from pink back is bluer, red being behind', 5, -1, 'bluer'],
    ['from orange on is yellower', 55, 1, 'yellower'],
    ['from orange back is redder', 55, -1, 'redder'],
    ['from yellow on is greener', 95, 1, 'greener'],
    ['from yellow back is redder', 85, -1, 'redder'],
    ['from purple on is redder', 320, 1, 'redder'],
    ['from purple back is bluer', 320, -1, 'bluer'],
    ['from just before red on is yellower', 355, 1, 'yellower'],
  ])('%s', (_, at, turn, direction) => {
    expect(hueDirection(hue(at), turn)).toBe(direction)
  })
})

describe('a drift in words', () => {
  const fading = shiftWith({ chroma: { value: -5.24, se: 0.6 }, lightness: { value: 2.41, se: 1 }, hue: { value: 0.8, se: 0.9 } })

  it('names what is clear of its own uncertainty, the largest first', () => {
    expect(partsText(toldParts(fading))).toBe('paler by 5.2 and lighter by 2.4')
  })

  it('names no direction where none is clear', () => {
    expect(partsText(toldParts(shiftWith({ chroma: { value: -1, se: 0.7 } })))).toBe('')
  })

  it.each<[string, Parameters<typeof stateText>[0], string]>([
    ['no drift, with what would have been seen', plantSeasonWith('p', { shift: shiftWith({ noticeable: 4.12 }) }), 'Shows no drift: one of 4.1 or more would likely have been seen.'],
    ['cannot be told, with why', plantSeasonWith('p', { state: 'cannot_tell', reasons: ['only_sun', 'no_baseline'], shift: null }), 'Cannot be told: it was photographed in sun alone and no season before has a good reading of it in full bloom.'],
    ['cannot be told, where nobody says why', plantSeasonWith('p', { state: 'cannot_tell', shift: null }), 'Cannot be told.'],
  ])('says %s', (_, season, said) => {
    expect(stateText(season)).toBe(said)
  })

  it('never says that there is no drift where little would have been seen', () => {
    const weak = plantSeasonWith('p', { state: 'cannot_tell', reasons: ['too_few_readings'], shift: shiftWith({ noticeable: 11.3 }) })
    expect(`${stateText(weak)} ${missedText(weak)}`).toBe('Cannot be told: there are too few photos to see a drift of ordinary size. A drift below 11.3 may have been missed.')
    expect(missedText({ ...weak, shift: shiftWith({ noticeable: null }) })).toBe('Even a large drift may have been missed.')
    expect(missedText(plantSeasonWith('p'))).toBe('')
  })

  it('has words for every reason of internal/drift, in both languages, and shows one of a later version as it stands', async () => {
    const reasons = ['no_baseline', 'no_full_bloom', 'only_sun', 'no_card', 'too_few_readings', 'few_plants', 'one_day', 'days_apart', 'other_camera', 'other_light', 'not_visible', 'stand_shift_untold']
    for (const language of ['en', 'es'] as const) {
      await loadWords(language)
      expect(reasons.filter((reason) => reasonText(reason) === reason)).toEqual([])
    }
    await loadWords('en')
    expect(reasonText('of_next_year')).toBe('of_next_year')
  })
})

describe('a class in words', () => {
  const rose = colourWith({ id: 'rose' as ColourID, name: 'rose', swatch: '#b23a52' })
  const farm = farmWith({ colours: [rose, colourWith({ id: 'blush' as ColourID, name: 'blush' })] })
  const told = (change: Partial<PlantClass>): PlantClass => ({ by: 'measured', season: 2026 as Season, colour: rose.id, sure: true, likely: [{ colour: rose.id, share: 1 }], ...change })
  it.each<[string, PlantClass | undefined, string]>([
    ['measured', told({}), 'rose, measured'],
    ['by eye', told({ by: 'eye' }), 'rose, by eye'],
    ['in none', told({ colour: undefined }), 'measured, and in no class'],
    ['between two', told({ sure: false, likely: [{ colour: rose.id, share: 0.62 }, { colour: undefined, share: 0.38 }] }), 'between rose and no class, 62 and 38 in 100'],
    ['unknown', undefined, 'colour not seen yet'],
  ])('%s', (_, one, said) => {
    expect(classText(farm, one)).toBe(said)
  })

  it('is painted as it was measured, else as it was picked', () => {
    expect(classSwatch(rose)).toBe('#b23a52')
    expect(classSwatch({ ...rose, lab: { L: 50, a: 0, b: 0 } })).toBe(hexOf({ L: 50, a: 0, b: 0 }))
    expect(classSwatch(undefined)).toBe('')
  })
})

it('tells a colour that the screen cannot show', () => {
  expect(beyondScreen({ L: 50, a: 110, b: -20 })).toBe(true)
  expect(beyondScreen({ L: 50, a: 40, b: 10 })).toBe(false)
})
