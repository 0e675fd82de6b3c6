// A made-up farm of one bed, as large as a test asks for, written by a phone of its own: with everything
// that a bed's picture tells apart. Nothing in it was ever grown.

import type { BrowserContext } from 'playwright-core'
import { Random } from '../proxy/random'
import { bedFacts, colourFacts, colourSeenFacts, farmFacts, markFacts, personFacts, plantFacts, plantingFacts, readingFacts, stockFacts, visitFacts } from '../src/crop/facts'
import { labOfHex } from '../src/beds/colour_nearest'
import { formatFlag } from '../src/crop/marks'
import type {
  BedID, Colour, ColourID, Day, FarmID, FlagKind, Millimetres, Planting, PlantID, PlantingID, ReadingID, Season, StockID, VisitID,
} from '../src/crop/nouns'
import { untoldLength } from '../src/crop/nouns'
import { colourWith, plantWith, readingWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

export interface BedFarm {
  readonly shed: Shed
  readonly bed: BedID
  /** The year that runs, and so the last season. */
  readonly season: number
  /** Has a browser's context carry the token of a device that joined. */
  admit(context: BrowserContext): Promise<void>
  close(): Promise<void>
}

export interface BedSize {
  readonly lines: number
  readonly numbers: number
  readonly seed: number
  /** Whether each plant's colour was measured this season. */
  readonly measured?: boolean
}

export const colours: readonly Colour[] = ([
  ['ember', '#b7603f'], ['oyster', '#e7c4b8'], ['garnet', '#b23a52'], ['barley', '#e2cb83'], ['damson', '#8d4377'], ['coral', '#dd8791'],
] as const).map(([name, swatch]) => colourWith({ id: name as string as ColourID, name, swatch }))

/** Codes of the plants that a test looks for, each the n-th of the bed in line 1. */
export const known = { mother: 'L1-2', off: 'L1-3', bare: 'L1-4', unrecorded: 'L1-5', leaning: 'L1-6', removed: 'L1-1', sown: 'W-1', unplaced: 'W-2' } as const

export async function openBedFarm({ lines, numbers, seed, measured = false }: BedSize): Promise<BedFarm> {
  const shed = await openShed('serve')
  const [writer, reader] = await joinMany(shed, 2)
  if (writer === undefined || reader === undefined) throw new Error('two devices were to join')
  const { farm, person } = await whoIs(shed, reader)
  const season = new Date().getFullYear()
  const bed = `bed-${lines}-${numbers}` as BedID
  await write(shed, farm, writer, [...personFacts({ id: person, name: 'Ilse' }), ...factsOf(farm, bed, lines, numbers, season, new Random(seed)),
    ...(measured ? readingsOf(lines, numbers, season, new Random(seed + 1)) : [])])
  return {
    shed, bed, season,
    admit: (context) => admit(context, shed, reader),
    close: () => shed.close(),
  }
}

function factsOf(farm: FarmID, bed: BedID, lines: number, numbers: number, season: number, random: Random): Fact[] {
  const day = (year: number, monthAndDay: string) => `${year}-${monthAndDay}` as Day
  const stock = (id: string, origin: 'seed' | 'self_sown') =>
    stockFacts({ id: id as StockID, name: id, species: 'Achillea millefolium', origin, protected: false, from: '' })
  const planting = (id: string, of: string, year: number): Planting =>
    ({ id: id as PlantingID, stock: of as StockID, bed, planted: day(year, '01-02'), firstSeason: year as Season })
  const [first, wild] = [planting('planting', 'Made-up mix', season - 2), planting('wild', 'Seedlings', season - 1)]
  const facts = [
    ...farmFacts({ id: farm, name: 'Made-up bed', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...colours.flatMap(colourFacts),
    ...bedFacts({ id: bed, name: 'Long strip', length: (numbers * 400) as Millimetres, width: (lines * 400) as Millimetres, lines, cutBack: new Map() }),
    ...stock('Made-up mix', 'seed'), ...stock('Seedlings', 'self_sown'), ...plantingFacts(first), ...plantingFacts(wild),
  ]
  const seedling = (code: string, beside: string) => plantFacts(plantWith({
    id: code as PlantID, code, planting: wild.id, beside: beside as PlantID | '', colour: random.pick(colours).id,
  }))
  for (let line = 1; line <= lines; line++) {
    for (let number = 1; number <= numbers; number++) {
      const code = `L${line}-${number}`
      const id = code as PlantID
      const removed = code === known.removed ? day(season - 1, '03-01') : ''
      const counted = code === known.bare || random.chance(0.1)
      const colour = random.pick(colours).id
      facts.push(...plantFacts(plantWith({
        id, code, line, number, planting: first.id, removed, colour: code === 'L1-7' ? '' : colour,
        counted: counted ? new Map([[season as Season, { from: day(season, '01-01'), to: day(season, '12-31') }]]) : new Map(),
      })))
      if (code === known.mother) facts.push(...colourSeenFacts(id, (season - 1) as Season, { day: day(season - 1, '06-01'), what: random.pick(colours).id }))
      for (let year = season - 2; year <= season; year++) {
        if (code === known.unrecorded || (code === known.bare && year === season) || (removed !== '' && year >= season - 1) || random.chance(0.06)) continue
        const stems = 1 + Math.floor((4 + 9 * (year - season + 2)) * 2 * random.next())
        facts.push(...visitFacts({
          id: `${code} ${year}` as VisitID, plant: id, bed: '', date: day(year, '01-01'), purpose: 'cut', person: '', flush: 'spring', toOrder: false,
          planting: '', age: 0, stage: '', counts: [{ colour: '', grade: '', length: untoldLength, stems }],
        }))
      }
      if (random.chance(0.03) || code === known.mother) facts.push(...flag(id, 'mother', day(season, '01-01')))
      if (random.chance(0.03) || code === known.off) facts.push(...flag(id, 'colour_off', day(season, '01-01')))
      if (random.chance(0.02) || code === known.leaning) facts.push(...flag(id, 'leaning', day(season, '01-01')))
    }
  }
  return [...facts, ...seedling(known.sown, known.mother), ...seedling(known.unplaced, '')]
}

/** A reading of each plant but the first that were told apart: around its class, no two alike. */
function readingsOf(lines: number, numbers: number, season: number, random: Random): Fact[] {
  const classes = colours.map(({ swatch }) => labOfHex(swatch)!)
  return Array.from({ length: lines * numbers }, (_, i) => {
    const code = `L${1 + Math.floor(i / numbers)}-${1 + (i % numbers)}`
    const { L, a, b } = random.pick(classes)
    const off = () => 4 * (random.next() + random.next() + random.next() - 1.5) // a standard deviation of 2
    return readingFacts(readingWith({
      id: `reading ${code}` as ReadingID, plant: code as PlantID, date: `${season}-01-02` as Day, lab: { L: L + off(), a: a + 2 * off(), b: b + 2 * off() }, se: { L: 0.6, a: 0.6, b: 0.6 },
    }))
  }).flat()
}

function flag(plant: PlantID, kind: FlagKind, day: Day): Fact[] {
  return markFacts(plant, 'flags', formatFlag({ kind, day, by: '' }), true)
}
