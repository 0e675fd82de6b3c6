import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Lab } from '../colour/lab'
import { classIn, measuredClass, usualLimit } from './colour_class'
import type { Cov, MeasuredColour } from './measured_colour'
import type { ColourID, Day, Season } from './nouns'
import { colourWith, farmWith, plantWith } from './testing/nouns'

const surely: Cov = { LL: 0.01, La: 0, Lb: 0, aa: 0.01, ab: 0, bb: 0.01 }
const about = (sd: number): Cov => ({ LL: sd * sd, La: 0, Lb: 0, aa: sd * sd, ab: 0, bb: sd * sd })
const at = (L: number, a: number, b: number, cov = surely): MeasuredColour => ({ lab: { L, a, b }, cov })

// Greys, where CIEDE2000 of a small step in lightness at L 50 is the step itself.
const grey = (id: string, L: number, limit = 0) => colourWith({ id: id as ColourID, name: id, lab: { L, a: 0, b: 0 }, limit })

describe('the class of a measured colour', () => {
  it.each<[string, readonly ReturnType<typeof grey>[], MeasuredColour, string | undefined, boolean]>([
    ['is the nearest', [grey('dark', 48), grey('light', 54)], at(49, 0, 0), 'dark', true],
    ['is the nearest also where another is listed first', [grey('light', 54), grey('dark', 48)], at(49, 0, 0), 'dark', true],
    ['is none beyond the usual limit', [grey('dark', 40)], at(50, 0, 0), undefined, true],
    ['follows a limit of its own', [grey('dark', 40, 12)], at(50, 0, 0), 'dark', true],
    ['is another within its limit where the nearest is beyond its own', [grey('near', 47, 1), grey('far', 54)], at(50, 0, 0), 'far', true],
    ['is not sure halfway between two', [grey('dark', 48), grey('light', 52)], at(50, 0, 0, about(1)), expect.anything() as unknown as string, false],
    ['is not sure at the edge of its limit', [grey('dark', 45)], at(50, 0, 0, about(1)), undefined, false],
    ['is sure in the middle, as uncertain as it may be', [grey('dark', 50)], at(50, 0, 0, about(1)), 'dark', true],
  ])('%s', (_, classes, colour, is, sure) => {
    const told = measuredClass(classes, colour)
    expect(told).toMatchObject({ sure })
    expect(told?.colour).toEqual(is)
  })

  it('is not told where no class has a measured colour', () => {
    expect(measuredClass([colourWith()], at(50, 0, 0))).toBeUndefined()
  })

  it('tells how likely each is', () => {
    // The normal's share below 1 sd is 0.841: the middle of the two lies 1 sd from the colour.
    const told = measuredClass([grey('dark', 48, 9), grey('light', 52, 9)], at(49, 0, 0, { ...surely, LL: 1 }))
    expect(told?.likely.map(({ colour }) => colour)).toEqual(['dark', 'light'])
    expect(told?.likely[0]?.share).toBeCloseTo(0.841, 1)
  })

  it('counts a class that only the farthest of what it may be reaches, also by grey, where a step is seen as larger', () => {
    expect(measuredClass([grey('dark', 50, 1)], at(50, 2, 0, { ...about(0), aa: 0.25 }))?.likely.map(({ colour }) => colour)).toEqual([undefined, 'dark'])
  })

  it('is told without drawing where nothing is near, and the shares add up', () => {
    expect(measuredClass([grey('dark', 10)], at(50, 0, 0, about(1)))?.likely).toEqual([{ colour: undefined, share: 1 }])
    const told = measuredClass([grey('dark', 46), grey('light', 53)], at(50, 0, 0, about(2)))
    expect(told?.likely.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
  })
})

const [rose, blush] = ['rose', 'blush'] as ColourID[] as [ColourID, ColourID]
const [y24, y25, y26] = [2024, 2025, 2026] as Season[] as [Season, Season, Season]
const seen = (...all: [Season, ColourID][]) => new Map(all.map(([season, what]) => [season, { day: `${season}-06-01` as Day, what }]))
const pink: Lab = { L: 60, a: 30, b: 5 }

describe('a plant’s class as of a season', () => {
  const farm = farmWith({ colours: [colourWith({ id: rose, lab: pink }), colourWith({ id: blush })] })
  const measuredRose = { lab: pink, cov: surely }
  const measuredElsewhere = at(20, 0, 0)
  it.each<[string, Parameters<typeof classIn>[1], [Season, MeasuredColour][], { by: string; season: number; colour: ColourID | undefined } | undefined]>([
    ['by what was measured, above the eye', { colour: blush, colours: seen([y26, blush]) }, [[y26, measuredRose]], { by: 'measured', season: 2026, colour: rose }],
    ['by eye where it was not measured', { colour: blush, colours: seen([y26, blush]) }, [], { by: 'eye', season: 2026, colour: blush }],
    ['by eye of this season above what was measured before', { colour: blush, colours: seen([y26, blush]) }, [[y25, measuredRose]], { by: 'eye', season: 2026, colour: blush }],
    ['by what was measured before, above an older eye', { colour: blush, colours: seen([y24, blush]) }, [[y25, measuredRose]], { by: 'measured', season: 2025, colour: rose }],
    ['by nothing of later seasons', { colour: '', colours: seen([2027 as Season, blush]) }, [[2027 as Season, measuredRose]], undefined],
    ['by the class it was given, where nobody said when', { colour: blush, colours: new Map() }, [], { by: 'eye', season: 0, colour: blush }],
    ['by eye where what was measured is in no class and the eye’s has no colour', { colour: blush, colours: seen([y26, blush]) }, [[y26, measuredElsewhere]], { by: 'eye', season: 2026, colour: blush }],
    ['in none where the eye’s class was measured to be another colour', { colour: rose, colours: seen([y26, rose]) }, [[y26, measuredElsewhere]], { by: 'measured', season: 2026, colour: undefined }],
    ['in none where nobody saw it', { colour: '', colours: new Map() }, [[y26, measuredElsewhere]], { by: 'measured', season: 2026, colour: undefined }],
    ['unknown where nothing is known', { colour: '', colours: new Map() }, [], undefined],
  ])('%s', (_, plant, measured, is) => {
    const told = classIn(farm, plantWith(plant), y26, new Map(measured))
    expect(told && { by: told.by, season: told.season, colour: told.colour }).toEqual(is)
  })

  it('is by eye where no class was measured', () => {
    const none = farmWith({ colours: [colourWith({ id: blush })] })
    expect(classIn(none, plantWith({ colour: blush, colours: seen([y26, blush]) }), y26, new Map([[y26, measuredRose]]))).toMatchObject({ by: 'eye', colour: blush, sure: true })
  })
})

it('takes in no less than what people call one colour, and claims none closer than is claimed', () => {
  // testdata/reference/TRADE.md: over 5 two different colours; rose petals were called one under 5.81.
  expect(usualLimit).toBeGreaterThanOrEqual(5)
  expect(usualLimit).toBeLessThanOrEqual(5.81)
})

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/classes.json'), 'utf8')) as {
  classes: { id: ColourID; lab?: Lab; limit: number }[]
  plants: {
    name: string; colour: ColourID | ''; seen: Record<string, ColourID>; measured: Record<string, MeasuredColour>; season: Season
    want: { measured: boolean; season: Season; colour: string; sure: boolean; likely: { colour: string; share: number }[] } | null
  }[]
}

describe('the class of a plant, as the shed has it', () => {
  const farm = farmWith({ colours: vectors.classes.map((one) => colourWith(one)) })
  const bySeason = <V>(of: Record<string, V>) => new Map(Object.entries(of).map(([season, value]) => [Number(season) as Season, value]))
  it.each(vectors.plants)('$name', ({ colour, seen: eyes, measured, season, want }) => {
    const told = classIn(farm, plantWith({ colour, colours: seen(...bySeason(eyes)) }), season, bySeason(measured))
    expect(told?.likely.map(({ share }) => share) ?? []).toEqual(want?.likely.map(({ share }) => expect.closeTo(share, 9) as number) ?? [])
    expect(told && { ...told, by: told.by === 'measured', colour: told.colour ?? '', likely: told.likely.map((one) => one.colour ?? '') })
      .toEqual(want ? { by: want.measured, season: want.season, colour: want.colour, sure: want.sure, likely: want.likely.map((one) => one.colour) } : undefined)
  })
})
