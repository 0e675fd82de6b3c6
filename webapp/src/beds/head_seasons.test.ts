import { describe, expect, it } from 'vitest'
import { difference } from '../colour/difference'
import type { CardID, Day, PlantID, Reading, ReadingID, Season } from '../crop/nouns'
import { cardWith, farmWith, readingWith } from '../crop/testing/nouns'
import type { ColourReport } from './colour_report'
import { headSeasons } from './head_seasons'
import { firmDiffers } from './plant_colours'
import { colourReportWith, plantColourWith, plantSeasonWith } from './testing/colours'

const p = 'p' as PlantID
const pink = { L: 60, a: 30, b: 5 }
const pale = { L: 66, a: 22, b: 5 }

const reading = (id: string, date: string, told: Partial<Reading> = {}) => readingWith({ id: id as ReadingID, date: date as Day, lab: pink, ...told })
const readings = [
  reading('late', '2026-06-06', { lab: pale }), reading('early', '2026-05-20', { lab: pale }),
  reading('first', '2025-05-20'), reading('faded', '2025-05-30', { stage: 'fading', lab: pale }),
]
const seasonsOf = (report?: ColourReport, all = readings) => headSeasons(farmWith({ readings: all }), report, p)

describe('a plant’s heads', () => {
  it('come season by season, the oldest first, and of a season too', () => {
    expect(seasonsOf().map(({ season, heads }) => [season, heads.map((one) => one.reading.id)])).toEqual([[2025, ['first', 'faded']], [2026, ['early', 'late']]])
  })

  it('are held against the first season of full bloom by the readings alone until the shed has answered', () => {
    const [first, second] = seasonsOf()
    expect([first?.isBaseline, second?.isBaseline]).toEqual([true, false])
    expect(first?.heads[0]?.away).toBe('within')
    const [early] = second!.heads
    expect(early?.away).toMatchObject({ away: difference(pink, pale).total })
  })

  it('of the baseline’s season that do not make it are held against it too', () => {
    expect(seasonsOf()[0]?.heads[1]?.away).toMatchObject({ away: difference(pink, pale).total })
  })

  it('are held against what the shed takes for the baseline, whose uncertainty is added', () => {
    const red = { L: 45, a: 50, b: 20 }
    const told = (se: number) => colourReportWith({
      colours: [plantColourWith('p', 2025, red, { se }), plantColourWith('p', 2026, pale)], plant_seasons: [plantSeasonWith('p', { baseline: 2025 as Season })],
    })
    const away = (se: number) => {
      const of = seasonsOf(told(se))[1]?.heads[0]?.away
      return typeof of === 'object' ? of : undefined
    }
    expect(away(0.5)?.away).toBeCloseTo(difference(red, pale).total)
    expect(away(3)!.se).toBeGreaterThan(away(0.5)!.se)
  })

  it('have no baseline in a season that has nothing good, as the shed says of it', () => {
    const colours = [plantColourWith('p', 2025, pink, { firm: 0 }), plantColourWith('p', 2026, pale, { firm: 2 })]
    expect(seasonsOf(colourReportWith({ colours })).map(({ isBaseline }) => isBaseline)).toEqual([false, true])
  })

  it('are held against nothing where none is of full bloom', () => {
    const [only] = seasonsOf(undefined, [reading('r', '2026-05-20', { light: 'sun' })])
    expect(only).toMatchObject({ isBaseline: false, heads: [{ away: undefined }] })
  })

  it.each<[string, object, boolean]>([
    ['is told where reference plants show it', {}, true], ['is not where they show nothing', { moved: false }, false],
    ['is not where nobody can tell', { told: false, moved: false }, false], ['is not where it is since another season', { since: 2024 }, false],
  ])('what the stand did %s', (_, told, shown) => {
    const shift = { season: 2026 as Season, since: 2025 as Season, told: true, shift: { l: 0, a: -4, b: 0 }, total: { mean: 4, lo: 3, hi: 5 }, p: 0.001, moved: true }
    const report = colourReportWith({ colours: [plantColourWith('p', 2025, pink)], stand: [{ ...shift, ...told }] })
    expect(seasonsOf(report)[1]?.stand !== undefined).toBe(shown)
  })
})

describe('readings that can be evidence of drift', () => {
  const card = 'K7M2QX' as CardID
  const good = [reading('a', '2026-05-20', { card }), reading('b', '2026-06-06', { card })]
  it.each<[string, Reading[], string, boolean]>([
    ['are as many as the shed knows', good, '', false],
    ['are fewer once one is said to be fading', [good[0]!, { ...good[1]!, stage: 'fading' }], '', true],
    ['are fewer once one is said to be in sun', [good[0]!, { ...good[1]!, light: 'sun' }], '', true],
    ['are fewer without a card', [good[0]!, { ...good[1]!, card: '' }], '', true],
    ['are fewer where its batch had been retired before that day', good, '2026-06-05', true],
    ['are as many where its batch was retired after that day’s session', good, '2026-06-06', false],
  ])('%s', (_, all, retired, differs) => {
    const farm = farmWith({ readings: all, cards: [cardWith({ id: card, retired: retired as Day })] })
    const report = colourReportWith({ colours: [plantColourWith('p', 2026, pink, { readings: 2, firm: 2 }), plantColourWith('q', 2026, pink)] })
    expect(firmDiffers(farm, { report }, p)).toBe(differs)
  })
})
