// A made-up farm that is asked for stems: some are promised, and a season of draws lies ahead, as the shed would answer them.
// Nothing in it was ever grown.

import type { BrowserContext } from 'playwright-core'
import { Random } from '../proxy/random'
import { askFacts } from '../src/crop/ahead_facts'
import type { Ask, AskID } from '../src/crop/ahead_nouns'
import { addDays, dayOf } from '../src/crop/day'
import { weekdayOf } from '../src/crop/due'
import { bedFacts, colourFacts, farmFacts, personFacts } from '../src/crop/facts'
import type { BedID, ColourID, Day, FarmID, Millimetres, PersonID } from '../src/crop/nouns'
import { bunchFacts, buyerFacts, channelFacts, lineFacts, orderFacts, priceFacts, termsFacts } from '../src/crop/sale_facts'
import type { BunchID, BuyerID, Cents, ChannelID, LineID, OrderID, PriceID, Weekdays } from '../src/crop/sale_nouns'
import { bedWith } from '../src/crop/testing/nouns'
import type { ForecastAnswer } from '../src/forecast/forecast'
import { drawnSeason } from '../src/forecast/testing/drawn_season'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

export interface PromiseFarm {
  readonly shed: Shed
  readonly today: Day
  readonly owner: string
  readonly crew: string
  say(facts: readonly Fact[]): Promise<void>
  close(): Promise<void>
}

export const today = dayOf(new Date())
const monday = addDays(today, 1 - weekdayOf(today))
export const buyers = ['Fern & Thimble', 'Studio Nord', 'Stem pool', 'Petra Quint'] as const

/** As many weeks, draws and promises as a test wants. */
export interface PromiseSize {
  readonly weeks: number
  readonly draws: number
  readonly promises: number
}

export async function openPromiseFarm({ promises }: Pick<PromiseSize, 'promises'>): Promise<PromiseFarm> {
  const shed = await openShed('serve')
  const [writer, owner] = await joinMany(shed, 2)
  if (writer === undefined || owner === undefined) throw new Error('two devices were to join')
  const { farm, person } = await whoIs(shed, owner)
  const crew = await joinBy(shed, await invite(shed, owner, crypto.randomUUID(), 'crew', 'Tilda'))
  const say = (facts: readonly Fact[]) => write(shed, farm, writer, facts)
  await say([...ground(farm, person), ...Array.from({ length: promises }, (_, i) => promised(i, promises)).flat()])
  return { shed, today, owner, crew, say, close: () => shed.close() }
}

function ground(farm: FarmID, person: PersonID): Fact[] {
  return [
    ...personFacts({ id: person, name: 'Maren' }), ...farmFacts({ id: farm, name: 'Made-up farm', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...termsFacts({ id: farm }, { currency: 'EUR' }), ...colours.flatMap(colourFacts), ...bedFacts(bedWith({ id: 'elder' as BedID, name: 'Elder' })),
    ...channelFacts('florists' as ChannelID, { name: 'Florists', kind: 'wholesale', commission: 0, fee: 0 as Cents, buyerPays: false, cutoffDays: 0, cutoffTime: '', days: '' as Weekdays }),
    ...bunchFacts({ id: 'ten' as BunchID, name: 'Ten firsts', stems: 10, grade: 'first', length: 400 as Millimetres }),
    ...priceFacts({ id: 'p' as PriceID, channel: 'florists' as ChannelID, buyer: '', colour: '', bunch: 'ten' as BunchID, from: '', cents: 560 as Cents }),
    ...buyers.flatMap((name, i) => buyerFacts(`buyer${i}` as BuyerID, { name, channel: 'florists' as ChannelID })),
  ]
}

/** One of so many promises, spread over the season. */
function promised(i: number, of: number): Fact[] {
  const order = `order${i}` as OrderID
  return [
    ...orderFacts({ id: order, buyer: `buyer${i % buyers.length}` as BuyerID, due: addDays(today, 3 + Math.floor((i * (of > 10 ? 120 : 40)) / of)), taken: today, note: '' }),
    ...lineFacts({
      id: `line${i}` as LineID, order, standing: '', bunch: '', bunches: 3 + (i % 4), stems: 10, grade: i % 3 === 0 ? 'first' : '', length: (i % 2 === 0 ? 400 : 0) as Millimetres,
      colours: [[], ['ember'], ['coral', 'damson'], ['ember', 'coral']][i % 4] as ColourID[], whole: false, exact: false, price: 520 as Cents,
    }),
  ]
}

/** A promise of an ask, with what was told of it. */
export function promisedAsk(id: string, stems: number, due: Day, told: Partial<Ask>): Fact[] {
  const order = `order of ${id}` as OrderID
  const buyer = 'buyer1' as BuyerID
  return [
    ...orderFacts({ id: order, buyer, due, taken: today, note: '' }),
    ...lineFacts({ id: id as LineID, order, standing: '', bunch: '', bunches: stems / 10, stems: 10, grade: '', length: 0 as Millimetres, colours: [], whole: false, exact: false, price: 0 as Cents }),
    ...askFacts(id as AskID, { buyer, stems, colours: [], grade: '', length: 0 as Millimetres, from: due, due, taken: today, answer: 'promised', offered: stems, order, ...told }),
  ]
}

export function forecastAnswer({ weeks, draws }: Omit<PromiseSize, 'promises'>): ForecastAnswer {
  const packed = drawnSeason({
    n: draws, first: monday, weeks, colours: [...colours.slice(0, 5).map(({ id }) => id), ''], peak: 3, lengths: [0, 400, 500, 600], heaviest: 3_000, chance: new Random(7),
  })
  return {
    arrival: 1, asof: addDays(today, -1), season: Number(today.slice(0, 4)) as ForecastAnswer['season'], weeks: [], first_cuts: [], draws: packed,
    scores: { weeks: [], crps: 0, again: null, year: null, pooled: null, inside: 0, n: 0 },
  }
}

/** Lets a phone into the farm, with a forecast as the shed would answer it; none where it is not told. */
export async function admitTo(context: BrowserContext, farm: PromiseFarm, cookie: string, answer: ForecastAnswer | undefined): Promise<void> {
  await context.route('**/api/forecast*', (route) => (answer ? route.fulfill({ json: answer }) : route.abort()))
  await admit(context, farm.shed, cookie)
}
