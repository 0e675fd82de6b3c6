// A made-up farm with orders for today and stems in the cooler, written by a phone of its own, and devices of an owner and
// of crew that joined. Nothing in it was ever grown.

import { request, type BrowserContext } from 'playwright-core'
import { bedCell, bedFacts, colourFacts, countFact, farmFacts, personFacts, visitFacts } from '../src/crop/facts'
import { addDays, dayOf } from '../src/crop/day'
import type { BedID, ColourID, Day, FarmID, Grade, Millimetres, VisitID } from '../src/crop/nouns'
import { acceptsFacts, buyerFacts, channelFacts, floorFacts, lineFacts, orderFacts, termsFacts } from '../src/crop/sale_facts'
import type { BuyerID, Cents, ChannelID, Line, LineID, OrderID } from '../src/crop/sale_nouns'
import { visitWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

export interface PackingFarm {
  readonly shed: Shed
  readonly today: Day
  /** Has a browser's context carry the token of a device that joined. */
  admit(context: BrowserContext, as: 'owner' | 'crew' | 'more crew'): Promise<void>
  /** What the shed answers to an owner or to crew. */
  ask(as: 'owner' | 'crew', path: string): Promise<string>
  close(): Promise<void>
}

export async function openPackingFarm(): Promise<PackingFarm> {
  const shed = await openShed('serve')
  const [writer, owner] = await joinMany(shed, 2)
  if (writer === undefined || owner === undefined) throw new Error('two devices were to join')
  const crew = [await joinBy(shed, await invite(shed, writer, crypto.randomUUID(), 'crew', 'Tilda'))]
  crew.push(await joinBy(shed, await invite(shed, writer, crypto.randomUUID(), 'crew', 'Joaquín')))
  const { farm, person } = await whoIs(shed, owner)
  const today = dayOf(new Date())
  await write(shed, farm, writer, [...personFacts({ id: person, name: 'Maren' }), ...factsOf(farm, today)])
  const cookies = { 'owner': owner, 'crew': crew[0]!, 'more crew': crew[1]! }
  return {
    shed, today,
    admit: (context, as) => admit(context, shed, cookies[as]),
    async ask(as, path) {
      const device = await request.newContext({ baseURL: shed.url, extraHTTPHeaders: { cookie: cookies[as] } })
      const text = await (await device.get(path)).text()
      await device.dispose()
      return text
    },
    close: () => shed.close(),
  }
}

const id = <T extends string>(name: string) => name as T

/** Stems that came over the bench: bed, days ago, colour, grade, centimetres, stems. */
const cuts: readonly (readonly [string, number, string, Grade, number, number])[] = [
  ['elder', 2, 'ember', 'first', 50, 26], ['elder', 0, 'ember', 'first', 50, 30], ['elder', 0, 'ember', 'extra', 60, 18],
  ['pump', 1, 'damson', 'first', 50, 24], ['pump', 0, 'oyster', 'second', 40, 55], ['pump', 0, 'barley', 'first', 40, 40],
  ['pump', 3, 'oyster', 'first', 50, 21],
]

interface Wish {
  readonly order: string
  readonly line: string
  readonly colours: readonly string[]
  readonly bunches: number
  readonly stems: number
  readonly price: number
  readonly grade?: Line['grade']
  readonly cm?: number
  readonly whole?: boolean
}

export const wishes: readonly Wish[] = [
  { order: 'wedding', line: 'wedding-ember', colours: ['ember'], bunches: 3, stems: 10, price: 1_450, grade: 'first', cm: 50, whole: true },
  { order: 'studio', line: 'studio-damson', colours: ['damson'], bunches: 3, stems: 10, price: 980, grade: 'first', cm: 50 },
  { order: 'studio', line: 'studio-ember', colours: ['ember'], bunches: 2, stems: 10, price: 1_150, grade: 'first', cm: 50 },
  { order: 'coop', line: 'coop-oyster', colours: ['oyster'], bunches: 6, stems: 10, price: 640, cm: 40 },
  { order: 'market', line: 'market-any', colours: [], bunches: 4, stems: 12, price: 0 },
]

function factsOf(farm: FarmID, today: Day): Fact[] {
  const buyer = (name: string, called: string, channel: string) => buyerFacts(id<BuyerID>(name), { name: called, channel: id<ChannelID>(channel) })
  const order = (name: string) => orderFacts({ id: id<OrderID>(name), buyer: id<BuyerID>(name), due: today, taken: '', note: '' })
  return [
    ...farmFacts({ id: farm, name: 'Made-up shed', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...termsFacts({ id: farm }, { currency: 'EUR' }),
    ...colours.flatMap(colourFacts),
    ...(['Elder', 'Pump'] as const).flatMap((name) => bedFacts({
      id: name.toLowerCase() as BedID, name, length: 8_000 as Millimetres, width: 1_200 as Millimetres, lines: 3, cutBack: new Map(),
    })),
    ...channelFacts(id<ChannelID>('florists'), { name: 'Florists', kind: 'wholesale', commission: 1_500 }),
    ...floorFacts(id<ChannelID>('florists'), 'first', 40 as Cents),
    ...channelFacts(id<ChannelID>('own'), { name: 'Own customers', kind: 'retail', commission: 0 }),
    ...buyer('wedding', 'Wedding, Saturday', 'own'), ...buyer('studio', 'Studio, weekly', 'florists'),
    ...buyer('coop', 'Flower co-op', 'florists'), ...buyer('market', 'Market bouquets', 'own'),
    ...acceptsFacts(id<BuyerID>('wedding'), id<ColourID>('ember'), [id<ColourID>('coral')]),
    ...['wedding', 'studio', 'coop', 'market'].flatMap(order),
    ...wishes.flatMap((w) => lineFacts({
      id: id<LineID>(w.line), order: id<OrderID>(w.order), standing: '', bunch: '', bunches: w.bunches, stems: w.stems, grade: w.grade ?? '',
      length: ((w.cm ?? 0) * 10) as Millimetres, colours: w.colours.map((name) => id<ColourID>(name)), whole: w.whole ?? false, exact: false,
      price: w.price as Cents,
    })),
    ...cuts.flatMap(([bed, ago, colour, grade, cm, stems]) => {
      const visit = `${bed} ${ago} ${colour} ${grade}` as VisitID
      const length = { lo: (cm * 10) as Millimetres, hi: (cm * 10 + 100) as Millimetres }
      return [
        ...visitFacts(visitWith({ id: visit, bed: bed as BedID, date: addDays(today, -ago), purpose: 'bench' })),
        countFact('shed', visit, bedCell(id<ColourID>(colour), grade, length), stems),
      ]
    }),
  ]
}
