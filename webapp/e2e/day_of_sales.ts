// A made-up farm that sells: two beds, what came over the bench, buyers, orders and what was packed of them today. Nothing
// in it was ever grown.

import { addDays, dayOf } from '../src/crop/day'
import { bedFacts, colourFacts, farmFacts, personFacts, visitFacts } from '../src/crop/facts'
import { lotCell } from '../src/crop/lots'
import { type BedID, type ColourID, type Day, type FarmID, type Grade, type LengthClass, type Millimetres, openEnd, type PersonID, type VisitID } from '../src/crop/nouns'
import {
  bunchFacts, buyerFacts, channelFacts, claimFacts, lineFacts, orderFacts, packedCount, packedFacts, priceFacts, termsFacts,
} from '../src/crop/sale_facts'
import type {
  BunchID, BuyerID, Cents, ChannelID, ClaimID, Line, LineID, LotID, OrderID, PackedID, PriceID, Weekdays,
} from '../src/crop/sale_nouns'
import { colourWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { write } from './writer'

export interface SaleFarm {
  readonly shed: Shed
  readonly today: Day
  /** Cookies of an owner's and of a crew's device. */
  readonly owner: string
  readonly crew: string
  /** Records further facts, by a third device. */
  say(facts: readonly Fact[]): Promise<void>
  close(): Promise<void>
}

const fifty: LengthClass = { lo: 500 as Millimetres, hi: 600 as Millimetres }
const sixty: LengthClass = { lo: 600 as Millimetres, hi: openEnd }

interface Want {
  readonly id: string
  readonly order: string
  readonly buyer: string
  readonly colours: readonly string[]
  readonly grade: Grade
  readonly bunches: number
  readonly price: number
  /** Packed: so many bunches of each lot, a lot as bed and colour. */
  readonly packed: readonly (readonly [string, string, number])[]
}

/** Orders that are due today. The last has no price; nothing is packed of `later`. */
const wants: readonly Want[] = [
  { id: 'a', order: 'fern', buyer: 'fern', colours: ['ember'], grade: 'first', bunches: 4, price: 560, packed: [['elder', 'ember', 3]] },
  { id: 'b', order: 'fern', buyer: 'fern', colours: ['oyster', 'coral'], grade: 'extra', bunches: 2, price: 790, packed: [['elder', 'oyster', 1], ['weir', 'coral', 1]] },
  { id: 'c', order: 'pool', buyer: 'pool', colours: [], grade: 'first', bunches: 25, price: 530, packed: [['weir', 'coral', 15], ['elder', 'ember', 10]] },
  { id: 'd', order: 'quint', buyer: 'quint', colours: ['oyster'], grade: 'first', bunches: 1, price: 0, packed: [['elder', 'oyster', 1]] },
  { id: 'e', order: 'later', buyer: 'later', colours: ['ember'], grade: 'first', bunches: 2, price: 500, packed: [] },
]

const buyers: readonly (readonly [string, string, string, string, string])[] = [
  ['fern', 'Fern & Thimble', '3 Weir Lane\nPort Hazel', '+44 1632 960 001', 'Back door; ring twice'],
  ['pool', 'Stem pool, hall 2', 'Ring Road 40\nGate C', '', ''],
  ['quint', 'Petra Quint', '22 Mill Street', '01632 960 003', ''],
  ['later', 'Blumenhof Arnd', '18 Station Road', '', ''],
]

export async function openSaleFarm(): Promise<SaleFarm> {
  const shed = await openShed('serve')
  const [writer = '', owner = ''] = await joinMany(shed, 2)
  const crew = await joinBy(shed, await invite(shed, owner, crypto.randomUUID(), 'crew', 'Tilda'))
  const { farm, person } = await whoIs(shed, owner)
  const today = dayOf(new Date())
  const say = (facts: readonly Fact[]) => write(shed, farm, writer, facts)
  await say([...personFacts({ id: person, name: 'Ilse' }), ...ground(farm, today), ...sales(farm, today)])
  return { shed, today, owner, crew, say, close: () => shed.close() }
}

function ground(farm: FarmID, today: Day): Fact[] {
  const yesterday = addDays(today, -1)
  const bench = (bed: string, date: Day, counts: readonly (readonly [string, Grade, LengthClass, number])[]) => visitFacts({
    id: `bench ${bed} ${date}` as VisitID, plant: '', bed: bed as BedID, date, purpose: 'bench', person: '', flush: 'spring', toOrder: false, planting: '', age: 0,
    stage: '', counts: counts.map(([colour, grade, length, stems]) => ({ colour: colour as ColourID, grade, length, stems })),
  })
  return [
    ...farmFacts({ id: farm, name: 'Kiln Field Flowers', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...personFacts({ id: 'maren' as PersonID, name: 'Maren' }),
    ...[['ember', '#b7603f'], ['oyster', '#e7c4b8'], ['coral', '#dd8791']].flatMap(([name = '', swatch = '']) => colourFacts(colourWith({ id: name as ColourID, name, swatch }))),
    ...[['elder', 'Elder'], ['weir', 'North weir']].flatMap(([id = '', name = '']) => bedFacts({
      id: id as BedID, name, length: 20_000 as Millimetres, width: 1200 as Millimetres, lines: 3, cutBack: new Map(),
    })),
    ...bench('elder', yesterday, [['ember', 'first', fifty, 190], ['oyster', 'extra', sixty, 34], ['oyster', 'first', fifty, 31]]),
    ...bench('weir', today, [['coral', 'extra', sixty, 210], ['coral', 'second', fifty, 17]]),
  ]
}

function sales(farm: FarmID, today: Day): Fact[] {
  const channel = 'florists' as ChannelID
  const price = (id: string, bunch: string, cents: number) => priceFacts({
    id: id as PriceID, channel, buyer: '', colour: '', bunch: bunch as BunchID, from: '', cents: cents as Cents,
  })
  return [
    ...termsFacts({ id: farm }, { currency: 'EUR', seller: 'Kiln Field Flowers\nPump Road 9', coolerDays: 6, payDays: 14, taxRate: 700, taxName: 'VAT' }),
    ...channelFacts(channel, { name: 'Florists in town', kind: 'wholesale', fee: 650 as Cents, buyerPays: true, days: '' as Weekdays }),
    ...bunchFacts({ id: 'ten' as BunchID, name: 'Ten firsts', stems: 10, grade: 'first', length: 400 as Millimetres }),
    ...bunchFacts({ id: 'long' as BunchID, name: 'Ten long extras', stems: 10, grade: 'extra', length: 500 as Millimetres }),
    ...price('p1', 'ten', 560), ...price('p2', 'long', 790),
    ...buyers.flatMap(([id, name, address, phone, note]) => buyerFacts(id as BuyerID, { name, channel, address, phone, note })),
    ...buyers.flatMap(([id]) => orderFacts({ id: id as OrderID, buyer: id as BuyerID, due: today, taken: today, note: id === 'pool' ? 'Before nine' : '' })),
    ...wants.flatMap((want) => [...lineFacts(lineOf(want)), ...packedOf(want, today)]),
    ...claimFacts({
      id: 'claim' as ClaimID, line: 'a' as LineID, buyer: 'fern' as BuyerID, due: today, lot: undefined, stems: 10, reason: 'wilted', back: false,
      credit: 560 as Cents, what: '', date: today, person: '',
    }),
  ]
}

export function lineOf(want: Want, price = want.price): Line {
  return {
    id: want.id as LineID, order: want.order as OrderID, standing: '', bunch: '', bunches: want.bunches, stems: 10, grade: want.grade,
    length: 400 as Millimetres, colours: want.colours as readonly ColourID[], whole: false, exact: false, price: price as Cents,
  }
}

/** The line that has no price, with one. */
export function pricedLine(price: number): Fact[] {
  return lineFacts(lineOf(wants.find(({ id }) => id === 'd')!, price))
}

function packedOf(want: Want, today: Day): Fact[] {
  if (want.packed.length === 0) return []
  const id = `packed ${want.id}` as PackedID
  const bunches = want.packed.reduce((sum, [, , n]) => sum + n, 0)
  return [
    ...packedFacts({ id, line: want.id as LineID, buyer: want.buyer as BuyerID, due: today, date: today, person: '' }),
    packedCount(id, 'bunches', bunches),
    ...want.packed.map(([bed, colour, n]) => packedCount(id, lotCell(lotOf(bed, colour, want.grade, today)), n * 10)),
  ]
}

function lotOf(bed: string, colour: string, grade: Grade, today: Day): LotID {
  const extra = colour === 'coral' || (colour === 'oyster' && grade === 'extra')
  return {
    bed: bed as BedID, cut: bed === 'elder' ? addDays(today, -1) : today, colour: colour as ColourID, grade: extra ? 'extra' : 'first', length: extra ? sixty : fifty,
  }
}
