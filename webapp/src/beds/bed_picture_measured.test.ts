import { beforeAll, describe, expect, it, test } from 'vitest'
import { hexOf } from '../colour/shown'
import type { ColourID, Day, Plant, PlantID, ReadingID, Season } from '../crop/nouns'
import { bedWith, colourWith, farmWith, plantingWith, plantWith, readingWith, stockWith } from '../crop/testing/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import { type Picture, pictureOf } from './bed_picture'
import { measuredOf, tallyOf } from './bed_picture_measured'
import { pastOf } from './bed_picture_past'
import { sceneOf } from './bed_picture_scene'
import { sheetFor } from './bed_picture_sheet'
import { colourSaid, marksSaid, measuredSaid, toldSaid } from './bed_picture_words'
import { colourReportWith, plantColourWith, plantSeasonWith } from './testing/colours'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const pink = { L: 60, a: 40, b: 5 }
const [garnet, coral] = [
  colourWith({ id: 'garnet' as ColourID, name: 'garnet', swatch: '#b23a52' }),
  colourWith({ id: 'coral' as ColourID, name: 'coral', swatch: '#dd8791', lab: { L: 70, a: 30, b: 20 } }),
]
const seenIn = (season: number, what: ColourID) => new Map([[season as Season, { day: `${season}-06-01` as Day, what }]])
const reading = (id: string, date: string, lab = pink) => readingWith({ id: id as ReadingID, plant: 'p' as PlantID, date: date as Day, lab })

interface Told {
  readonly plant?: Partial<Plant>
  readonly readings?: readonly ReturnType<typeof reading>[]
  readonly report?: Parameters<typeof colourReportWith>[0]
}

/** One plant in the season 2026. */
function shown({ plant = {}, readings = [], report }: Told): { one: Picture['heads'][number]; picture: Picture; farm: ReturnType<typeof farmWith> } {
  const bed = bedWith()
  const plants = [plantWith({ id: 'p' as PlantID, code: 'P', line: 1, number: 1, ...plant })]
  const farm = farmWith({ beds: [bed], stocks: [stockWith()], plantings: [plantingWith()], plants, colours: [garnet, coral], readings })
  const past = pastOf(farm, bed, '2026-07-01' as Day)
  const answer = report && { species: [{ species: 'x', report: colourReportWith(report), left_out: 0 }] }
  const picture = pictureOf(past, 2026 as Season, measuredOf(farm, past.plants, answer))
  return { one: picture.heads[0]!, picture, farm }
}

describe('a plant in a picture of measured colours', () => {
  test.each<[string, Told, { swatch: string; by: string; before?: number }]>([
    ['as the shed says of the season', { report: { colours: [plantColourWith('p', 2026, pink)] }, readings: [reading('r', '2026-05-01', { L: 20, a: 0, b: 0 })] }, { swatch: hexOf(pink), by: 'photo' }],
    ['by its readings where the shed has not answered for the season', { report: { colours: [plantColourWith('p', 2025, garnet.lab ?? pink)] }, readings: [reading('r', '2026-05-01')] }, { swatch: hexOf(pink), by: 'photo' }],
    ['by readings alone where the shed was never reached', { readings: [reading('r', '2026-05-01')] }, { swatch: hexOf(pink), by: 'photo' }],
    ['as it was measured before where nobody told since', { readings: [reading('r', '2025-11-01')] }, { swatch: hexOf(pink), by: 'photo', before: 2025 }],
    ['by eye where that was told later', { readings: [reading('r', '2025-11-01')], plant: { colours: seenIn(2026, garnet.id) } }, { swatch: garnet.swatch, by: 'eye' }],
    ['as measured where both were told in one season', { readings: [reading('r', '2026-05-01')], plant: { colours: seenIn(2026, garnet.id) } }, { swatch: hexOf(pink), by: 'photo' }],
    ['in its class by eye where it was not measured', { plant: { colour: garnet.id } }, { swatch: garnet.swatch, by: 'eye' }],
    ['in its class’s measured colour, and still by eye', { plant: { colour: coral.id } }, { swatch: hexOf(coral.lab!), by: 'eye' }],
    ['hollow where nothing is known', {}, { swatch: '', by: 'nobody' }],
    ['not by what is measured in a later season', { report: { colours: [plantColourWith('p', 2027, pink)] } }, { swatch: '', by: 'nobody' }],
  ])('is painted %s', (_, told, want) => {
    const { one } = shown(told)
    expect({ swatch: one.swatch, by: one.told?.by, before: one.told?.before }).toEqual({ before: undefined, ...want })
  })

  test.each<[string, readonly ReturnType<typeof plantSeasonWith>[], string | undefined]>([
    ['drift, where the shed says so of the season', [plantSeasonWith('p', { state: 'drift' })], 'drift'],
    ['to be watched', [plantSeasonWith('p', { state: 'watch' })], 'watch'],
    ['drift of a season before, where it was not judged since', [plantSeasonWith('p', { state: 'drift', season: 2025 as Season })], 'drift'],
    ['nothing, where the newest says that there is none', [plantSeasonWith('p', { state: 'drift', season: 2025 as Season }), plantSeasonWith('p')], undefined],
    ['nothing of a later season', [plantSeasonWith('p', { state: 'drift', season: 2027 as Season })], undefined],
    ['nothing, where it cannot be told', [plantSeasonWith('p', { state: 'cannot_tell' })], undefined],
  ])('is marked: %s', (_, plant_seasons, want) => {
    expect(shown({ report: { colours: [plantColourWith('p', 2026, pink)], plant_seasons } }).one.told?.drift).toBe(want)
    expect(shown({ report: { colours: [plantColourWith('p', 2026, pink)], references: plant_seasons } }).one.told?.drift).toBe(want)
  })

  it('is said to be painted less deep where the screen cannot show it', () => {
    const { one, picture } = shown({ readings: [reading('r', '2026-05-01', { L: 60, a: 110, b: -60 })] })
    expect(one.told?.beyond).toBe(true)
    expect(measuredSaid(one)).toContain('beyond what this screen can show')
    expect(toldSaid(picture)).toContain('1 colour lies beyond')
  })
})

it('is drawn with its middle open where an eye told its colour, and with nothing of the kind in the colours of classes', () => {
  const open = (picture: Picture) => sceneOf(picture, sheetFor(pastOf(shown({}).farm, bedWith(), '2026-07-01' as Day).ground, { width: 300, height: 300 }, 13)).dots[0]?.look.open
  const { picture, farm } = shown({ plant: { colour: garnet.id } })
  expect(open(picture)).toBe(true)
  expect(open(shown({ readings: [reading('r', '2026-05-01')] }).picture)).toBe(false)
  expect(open(pictureOf(pastOf(farm, bedWith(), '2026-07-01' as Day), 2026 as Season))).toBe(false)
})

describe('in words', () => {
  it('says the measured colour with its numbers, and when it was measured where that is not the season shown', () => {
    const { one, farm } = shown({ readings: [reading('r', '2025-11-01')], report: { plant_seasons: [plantSeasonWith('p', { state: 'drift', season: 2025 as Season })] } })
    expect(colourSaid(farm, one)).toBe('pink')
    expect(measuredSaid(one)).toBe('in 2025 · L*\u00a060, a*\u00a040, b*\u00a05')
    expect(marksSaid(one)).toBe('drifted')
  })

  it('says a class by eye, and nothing of what nobody knows', () => {
    const [seen, unknown] = [shown({ plant: { colour: garnet.id } }), shown({})]
    expect([colourSaid(seen.farm, seen.one), measuredSaid(seen.one)]).toEqual(['garnet, by eye', ''])
    expect([colourSaid(unknown.farm, unknown.one), measuredSaid(unknown.one)]).toEqual(['colour not seen yet', ''])
  })

  it('counts those that stand', () => {
    const told = { lab: undefined, before: undefined, drift: undefined }
    const one = (by: 'photo' | 'eye' | 'nobody', gone = false, beyond = false) => ({ gone, told: { ...told, by, beyond } })
    expect(tallyOf([one('photo'), one('photo', false, true), one('eye'), one('nobody'), one('photo', true, true)])).toEqual({ photo: 2, eye: 1, nobody: 1, beyond: 1 })
  })
})
