// A made-up farm that sold for a year: 300 buyers of three channels, some 20,000 bunches, two deliveries a week, some of
// them standing orders', and as much again ordered ahead. It is in the middle of today's packing. Nothing in it was ever
// grown or sold.

import { Random } from '../proxy/random'
import { addDays } from '../src/crop/day'
import { weekdayOf } from '../src/crop/due'
import { bedFacts, colourFacts, farmFacts, personFacts, plantFacts, plantingFacts, stockFacts, visitFacts, withdrawnFact } from '../src/crop/facts'
import { lotCell } from '../src/crop/lots'
import type { BedID, ColourID, Count, Day, FarmID, Grade, Millimetres, PersonID, PlantID, PlantingID, Season, StockID, VisitID } from '../src/crop/nouns'
import {
  acceptsFacts, bunchFacts, buyerFacts, channelFacts, claimFacts, floorFacts, lineFacts, orderFacts, packedCount, packedFacts, priceFacts, shrinkFacts,
  standingFacts, termsFacts,
} from '../src/crop/sale_facts'
import type {
  BunchID, BuyerID, Cents, Channel, ChannelID, ClaimID, Line, LineID, LotID, OrderID, PackedID, PriceID, ShrinkID, StandingID, Weekdays,
} from '../src/crop/sale_nouns'
import { bedWith, plantWith, stockWith, visitWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'

const [beds, plantsABed, buyers, standings] = [8, 60, 300, 24]
/** Lines that are ordered for a day, apart from the standing orders'; and of today's how many are packed by now. */
const [linesADay, packedToday] = [36, 16]
/** Stems that nobody took by then are written off or forgotten. */
const daysKept = 7
const grades: readonly Grade[] = ['extra', 'first', 'second']
const rule = 'ten' as BunchID
const least = { stems: 10, grade: 'second', length: 300 as Millimetres } as const

const channels: readonly (Pick<Channel, 'id' | 'name' | 'kind' | 'commission' | 'fee' | 'buyerPays'> & { readonly price: number })[] = [
  { id: 'florists' as ChannelID, name: 'Florists', kind: 'wholesale', commission: 0, fee: 650 as Cents, buyerPays: true, price: 540 },
  { id: 'pool' as ChannelID, name: 'Stem pool', kind: 'co_op', commission: 1_500, fee: 300 as Cents, buyerPays: false, price: 580 },
  { id: 'events' as ChannelID, name: 'Weddings', kind: 'event', commission: 500, fee: 0 as Cents, buyerPays: false, price: 790 },
]

/** Stems of a lot that are left. */
type Left = [lot: LotID, stems: number]

/** A line that is due on a day, under the ids that it has there. */
interface Wanted {
  readonly buyer: BuyerID
  readonly order: OrderID
  readonly line: Line
}

export interface SoldYear {
  readonly facts: readonly Fact[]
  /** Bunches that were packed. */
  readonly bunches: number
  /** Of the oldest day: packed and billed. */
  readonly billed: Wanted
  /** Of today: nothing is packed of it yet. */
  readonly open: Wanted
  /** One that nobody wrote off. */
  readonly oldLot: LotID
}

/** The facts of a year that ends today, with two weeks of orders ahead. */
export function sold(farm: FarmID, person: PersonID, today: Day): SoldYear {
  const random = new Random(20_000)
  const standing = Array.from({ length: standings }, (_, n) => standingOrder(n, today, random))
  const facts = [...ground(farm, person, today), ...standing.flatMap(({ facts }) => facts)]
  let bunches = 0
  let [billed, oldLot, ofToday]: [Wanted?, LotID?, Wanted[]?] = []
  // Every seventh day and the fourth after it, so that today is one of them.
  for (let ago = 364; ago >= -14; ago--) {
    if (ago % 7 !== 0 && (ago + 364) % 7 !== 4) continue
    const day = addDays(today, -ago)
    const came = ago >= 0 ? bench(facts, day, random) : []
    const wanted = [
      ...Array.from({ length: linesADay }, (_, n) => order(facts, day, n, random)),
      ...standing.filter(({ days }) => days.includes(String(weekdayOf(day)))).map((one) => occurrence(one, day)),
    ]
    if (ago < 0) continue
    for (const one of ago === 0 ? wanted.slice(0, packedToday) : wanted) {
      const packed = pack(facts, day, one, came, person)
      bunches += packed
      if (packed > 0) billed ??= one
      if (packed > 0 && ago > 0 && random.chance(0.02)) facts.push(...claim(one, day))
    }
    if (ago === 0) ofToday = wanted
    else if (ago > daysKept) oldLot = [oldLot, ...writeOff(facts, day, came, random)].find((lot) => lot !== undefined)
  }
  const open = ofToday?.[packedToday]
  if (!billed || !ofToday || !open || !oldLot) throw new Error('the year has no sale, no open line or no leftover')
  return { facts: [...facts, ...whatNeedsALook(today, ofToday)], bunches, billed, open, oldLot }
}

function ground(farm: FarmID, person: PersonID, today: Day): Fact[] {
  const season = Number(today.slice(0, 4))
  const facts = [
    ...personFacts({ id: person, name: 'Ilse' }),
    ...farmFacts({ id: farm, name: 'Made-up year', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...termsFacts({ id: farm }, { currency: 'EUR', coolerDays: daysKept, overCut: 4, payDays: 14, taxRate: 700, taxName: 'VAT', seller: 'Made-up year\nPump Road 9' }),
    ...colours.flatMap(colourFacts),
    ...stockFacts(stockWith({ id: 'mix' as StockID, name: 'Made-up mix', origin: 'seed' })),
    ...bunchFacts({ id: rule, name: 'Ten firsts', ...least }),
    ...channels.flatMap(({ price, ...told }) => [
      ...channelFacts(told.id, { ...told, days: '' as Weekdays }), ...floorFacts(told.id, 'first', 25 as Cents),
      ...priceFacts({ id: `price ${told.id}` as PriceID, channel: told.id, buyer: '', colour: '', bunch: rule, from: '', cents: price as Cents }),
    ]),
  ]
  for (let n = 1; n <= beds; n++) facts.push(...bed(`bed${n}` as BedID, `Strip ${n}`, season))
  for (let n = 0; n < buyers; n++) {
    facts.push(...buyerFacts(buyerID(n), { name: `Shop ${n + 1}`, channel: channelOf(n).id, address: `Lane ${n + 1}` }))
    if (n % 5 === 0) facts.push(...acceptsFacts(buyerID(n), 'ember' as ColourID, ['coral' as ColourID]))
  }
  return facts
}

function bed(id: BedID, name: string, season: number): Fact[] {
  const planting = id as string as PlantingID
  const facts = [
    ...bedFacts(bedWith({ id, name, lines: 3 })),
    ...plantingFacts({ id: planting, stock: 'mix' as StockID, bed: id, planted: `${season - 2}-09-18` as Day, firstSeason: (season - 1) as Season }),
  ]
  for (let n = 0; n < plantsABed; n++) {
    const [line, number, colour] = [1 + n % 3, 1 + Math.floor(n / 3), colours[n % colours.length]!.id]
    facts.push(...plantFacts(plantWith({ id: `${id} ${n}` as PlantID, code: `${id.slice(3)}-${n + 1}`, planting, line, number, colour })))
  }
  return facts
}

function buyerID(n: number): BuyerID {
  return `buyer${n}` as BuyerID
}

function channelOf(buyer: number): (typeof channels)[number] {
  return channels[buyer % 8 === 0 ? 2 : buyer % 3 === 0 ? 1 : 0]!
}

/** A bench total a bed, as lots with the stems that are left of each. */
function bench(facts: Fact[], day: Day, random: Random): Left[] {
  const came: Left[] = []
  for (let n = 1; n <= beds; n++) {
    const bed = `bed${n}` as BedID
    const counts: Count[] = colours.map((colour) => ({
      colour: colour.id, grade: random.pick(grades), length: { lo: 400 as Millimetres, hi: 500 as Millimetres }, stems: random.between(35, 60),
    }))
    facts.push(...visitFacts(visitWith({ id: `bench ${bed} ${day}` as VisitID, bed, date: day, purpose: 'bench', counts })))
    for (const { colour, grade, length, stems } of counts) came.push([{ bed, cut: day, colour, grade, length }, stems])
  }
  return came
}

/** Four bunches, or two to six of a standing order; of one line in eight all or none. */
function lineOf(id: string, of: Pick<Line, 'order' | 'standing'>, buyer: number, bunches: number, random: Random): Line {
  return {
    id: id as LineID, ...of, bunch: rule, bunches, ...least, colours: random.chance(0.5) ? [] : [random.pick(colours).id], whole: random.chance(0.125),
    exact: false, price: channelOf(buyer).price as Cents,
  }
}

function order(facts: Fact[], day: Day, n: number, random: Random): Wanted {
  const of = random.between(0, buyers - 1)
  const [buyer, id] = [buyerID(of), `order ${day} ${n}` as OrderID]
  const line = lineOf(`line ${day} ${n}`, { order: id, standing: '' }, of, 4, random)
  facts.push(...orderFacts({ id, buyer, due: day, taken: addDays(day, -3), note: '' }), ...lineFacts(line))
  return { buyer, order: id, line }
}

interface Standing {
  readonly id: StandingID
  readonly buyer: BuyerID
  readonly days: string
  readonly line: Line
  readonly facts: readonly Fact[]
}

/** Each is delivered once a week, on the first or the second of the two days. */
function standingOrder(n: number, today: Day, random: Random): Standing {
  const of = n * 12
  const [id, buyer] = [`standing ${n}` as StandingID, buyerID(of)]
  const days = String(weekdayOf(addDays(today, n % 2 === 0 ? 0 : 3)))
  const line = lineOf(`weekly ${n}`, { order: '', standing: id }, of, random.between(2, 6), random)
  const told = { id, buyer, from: addDays(today, -364), until: '', days: days as Weekdays, every: 1, note: '' } as const
  return { id, buyer, days, line, facts: [...standingFacts(told), ...lineFacts(line)] }
}

function occurrence({ id, buyer, line }: Standing, day: Day): Wanted {
  const order = `${id}@${day}` as OrderID
  return { buyer, order, line: { ...line, id: `${line.id}@${day}` as LineID, order, standing: '' } }
}

function pack(facts: Fact[], day: Day, { buyer, line }: Wanted, came: readonly Left[], person: PersonID): number {
  const fits = came.filter(([lot, left]) => left > 0 && (line.colours.length === 0 || line.colours.includes(lot.colour as ColourID)))
  const there = fits.reduce((sum, [, left]) => sum + left, 0)
  const bunches = Math.min(line.bunches, Math.floor(there / line.stems))
  if (bunches === 0 || (line.whole && bunches < line.bunches)) return 0
  const id = `packed ${line.id}` as PackedID
  facts.push(...packedFacts({ id, line: line.id, buyer, due: day, date: day, person }), packedCount(id, 'bunches', bunches))
  let wanted = bunches * line.stems
  for (const lot of fits) {
    const taken = Math.min(wanted, lot[1])
    lot[1] -= taken
    wanted -= taken
    if (taken > 0) facts.push(packedCount(id, lotCell(lot[0]), taken))
  }
  return bunches
}

function claim({ buyer, line }: Wanted, day: Day): Fact[] {
  return claimFacts({
    id: `claim ${line.id}` as ClaimID, line: line.id, buyer, due: day, lot: undefined, stems: 10, reason: 'wilted', back: false, credit: 300 as Cents, what: '',
    date: addDays(day, 1), person: '',
  })
}

/** Half of what is left over; gives the lots of the other half, which nobody thought of. */
function writeOff(facts: Fact[], day: Day, came: readonly Left[], random: Random): LotID[] {
  const forgotten: LotID[] = []
  for (const [lot, stems] of came) {
    if (stems === 0) continue
    if (random.chance(0.5)) facts.push(...shrinkFacts({ id: `shrink ${lotCell(lot)}` as ShrinkID, lot, stems, reason: 'too_old', what: '', date: addDays(day, daysKept), person: '' }))
    else forgotten.push(lot)
  }
  return forgotten
}

/** A buyer is deleted who has an order ahead; and four lines of today were packed twice, by a tablet that was offline. */
function whatNeedsALook(today: Day, ofToday: readonly Wanted[]): Fact[] {
  const twice = ofToday.slice(0, 4).flatMap(({ buyer, line }) => {
    const id = `packed twice ${line.id}` as PackedID
    return [...packedFacts({ id, line: line.id, buyer, due: today, date: today, person: '' }), packedCount(id, 'bunches', 4)]
  })
  const order = 'of a deleted buyer' as OrderID
  const ahead = [
    ...orderFacts({ id: order, buyer: buyerID(1), due: addDays(today, 7), taken: today, note: '' }),
    ...lineFacts({ ...ofToday[0]!.line, id: 'line of a deleted buyer' as LineID, order, standing: '' }),
  ]
  return [...ahead, withdrawnFact('buyer', buyerID(1), true, 'shed'), ...twice]
}
