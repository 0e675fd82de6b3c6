// A made-up farm that sells: three beds in bloom, orders and a cooler, written by a phone of its own. Nothing in it was
// ever grown or sold.

import type { BrowserContext } from 'playwright-core'
import { addDays, dayOf } from '../src/crop/day'
import { bedFacts, colourFacts, eventFacts, farmFacts, personFacts, plantFacts, plantingFacts, stockFacts, visitFacts } from '../src/crop/facts'
import type { BedID, ColourID, Day, EventID, FarmID, Millimetres, PlantID, PlantingID, Season, StockID, VisitID } from '../src/crop/nouns'
import { acceptsFacts, buyerFacts, channelFacts, lineFacts, orderFacts, termsFacts } from '../src/crop/sale_facts'
import type { BuyerID, Cents, ChannelID, LineID, OrderID, Weekdays } from '../src/crop/sale_nouns'
import { bedWith, eventWith, plantWith, stockWith, visitWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'
import { joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

export interface CutFarm {
  readonly shed: Shed
  /** Has a browser's context carry the token of one of the devices that joined. */
  admit(context: BrowserContext, device: number): Promise<void>
  /** Says more, as a device of its own. */
  say(facts: readonly Fact[]): Promise<void>
  readonly today: Day
  close(): Promise<void>
}

export interface CutFarmTold {
  /** Bed A was sprayed, and people are kept out of it for so many hours. */
  readonly sprayed?: number
}

export async function openCutFarm({ sprayed = 0 }: CutFarmTold = {}): Promise<CutFarm> {
  const shed = await openShed('serve')
  const [writer = '', ...readers] = await joinMany(shed, 4)
  const all = await Promise.all(readers.map((cookie) => whoIs(shed, cookie)))
  const farm = all[0]!.farm
  const today = dayOf(new Date())
  const say = (facts: readonly Fact[]) => write(shed, farm, writer, facts)
  await say([...all.flatMap(({ person }, i) => personFacts({ id: person, name: ['Maren', 'Joaquín', 'Tilda'][i]! })), ...ground(farm, today), ...sold(farm, today), ...cooler(today), ...(sprayed > 0 ? spraying(today, sprayed) : [])])
  return {
    shed, today, say,
    admit: (context, device) => admit(context, shed, readers[device]!),
    close: () => shed.close(),
  }
}

/** Plants by bed and colour class, the counted ones first. */
const plants: readonly (readonly [bed: string, colour: string, plants: number, counted: number])[] = [
  ['Alder', 'ember', 6, 3], ['Alder', 'barley', 4, 0], ['Birch', 'ember', 3, 0], ['Birch', 'oyster', 4, 0], ['Cedar', 'damson', 5, 0], ['Cedar', 'garnet', 3, 0],
]

function ground(farm: FarmID, today: Day): Fact[] {
  const year = Number(today.slice(0, 4))
  const season = year as Season
  const window = { from: `${year}-01-01` as Day, to: `${year}-12-31` as Day }
  const facts = [
    ...farmFacts({ id: farm, name: 'Made-up hill', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...colours.flatMap(colourFacts), ...stockFacts(stockWith({ id: 'mix' as StockID, name: 'Made-up mix', origin: 'seed' })),
  ]
  const next = new Map<string, number>()
  for (const bed of new Set(plants.map(([name]) => name))) {
    facts.push(...bedFacts(bedWith({ id: bed as BedID, name: bed, length: 9_000 as Millimetres, width: 800 as Millimetres, lines: 1 })))
    facts.push(...plantingFacts({ id: bed as string as PlantingID, stock: 'mix' as StockID, bed: bed as BedID, planted: `${year - 1}-03-01` as Day, firstSeason: (year - 1) as Season }))
  }
  for (const [bed, colour, n, counted] of plants) {
    for (let i = 1; i <= n; i++) {
      const number = (next.get(bed) ?? 0) + 1
      next.set(bed, number)
      facts.push(...plantFacts(plantWith({
        id: `${bed} ${number}` as PlantID, code: `${bed.slice(0, 1)}${number}`, planting: bed as string as PlantingID, line: 1, number,
        colour: colour as ColourID, counted: i <= counted ? new Map([[season, window]]) : new Map(),
      })))
    }
  }
  return facts
}

/**
 * 30 ember of 50 cm in bunches of ten, of which the cooler has 12; 20 oyster and barley mixed; 10 coral, which nobody
 * has standing; for later 40 ember more.
 */
function sold(farm: FarmID, today: Day): Fact[] {
  const channel = 'florists' as ChannelID
  const order = (id: string, buyer: string, due: Day) => orderFacts({ id: id as OrderID, buyer: buyer as BuyerID, due, taken: '', note: '' })
  const line = (id: string, of: string, bunches: number, asked: string, least: { grade?: 'first'; cm?: number } = {}) => lineFacts({
    id: id as LineID, order: of as OrderID, standing: '', bunch: '', bunches, stems: 10, grade: least.grade ?? '', length: ((least.cm ?? 0) * 10) as Millimetres,
    colours: asked.split(' ') as ColourID[], whole: false, exact: false, price: 0 as Cents,
  })
  return [
    ...termsFacts({ id: farm }, { overCut: 5, coolerDays: 7 }),
    ...channelFacts(channel, { name: 'Florists', kind: 'wholesale', days: '' as Weekdays }),
    ...buyerFacts('nord' as BuyerID, { name: 'Studio Nord', channel }), ...buyerFacts('quay' as BuyerID, { name: 'Quay Flowers', channel }),
    ...acceptsFacts('nord' as BuyerID, 'ember' as ColourID, []),
    ...order('one', 'nord', today), ...line('one-a', 'one', 3, 'ember', { grade: 'first', cm: 50 }), ...line('one-b', 'one', 2, 'oyster barley'),
    ...order('two', 'quay', addDays(today, 1)), ...line('two-a', 'two', 1, 'coral', { cm: 60 }),
    ...order('later', 'quay', addDays(today, 4)), ...line('later-a', 'later', 4, 'damson'),
  ]
}

function cooler(today: Day): Fact[] {
  const length = { lo: 500 as Millimetres, hi: 600 as Millimetres }
  return visitFacts(visitWith({
    id: 'bench yesterday' as VisitID, bed: 'Alder' as BedID, purpose: 'bench', date: addDays(today, -1), flush: 'spring',
    counts: [{ colour: 'ember' as ColourID, grade: 'first', length, stems: 12 }],
  }))
}

function spraying(today: Day, hours: number): Fact[] {
  return eventFacts(eventWith({ id: 'spray' as EventID, bed: 'Alder' as BedID, kind: 'sprayed', date: today, what: 'soap', until: Date.now() + hours * 3_600_000 }))
}
