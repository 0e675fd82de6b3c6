// A made-up farm that sold for a year: 300 buyers, some 20,000 bunches, two deliveries a week, and as much again ordered
// ahead. Nothing in it was ever sold.

import { Random } from '../proxy/random'
import { addDays } from '../src/crop/day'
import { bedFacts, colourFacts, farmFacts, personFacts, visitFacts } from '../src/crop/facts'
import { weekdayOf } from '../src/crop/due'
import { lotCell } from '../src/crop/lots'
import type { BedID, ColourID, Count, Day, FarmID, Grade, Millimetres, PersonID, VisitID } from '../src/crop/nouns'
import { bunchFacts, buyerFacts, channelFacts, claimFacts, lineFacts, orderFacts, packedCount, packedFacts, priceFacts, shrinkFacts, termsFacts } from '../src/crop/sale_facts'
import type {
  BunchID, BuyerID, Cents, ChannelID, ClaimID, Line, LineID, LotID, OrderID, PackedID, PriceID, ShrinkID,
} from '../src/crop/sale_nouns'
import { bedWith, visitWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'

export const buyers = 300
const [beds, linesADay, bunchesALine] = [8, 48, 4]
const grades: readonly Grade[] = ['extra', 'first', 'second']
const channel = 'florists' as ChannelID
const rule = 'ten' as BunchID

/** The facts of a year that ends today, with two weeks of orders ahead; and how many bunches were packed. */
export function sold(farm: FarmID, person: PersonID, today: Day): { readonly facts: Fact[]; readonly bunches: number } {
  const random = new Random(20_000)
  const facts = ground(farm, person)
  let bunches = 0
  for (let day = addDays(today, -364); day <= addDays(today, 14); day = addDays(day, 1)) {
    if (weekdayOf(day) !== 2 && weekdayOf(day) !== 5) continue
    const came = day <= today ? bench(facts, day, random) : []
    for (let n = 0; n < linesADay; n++) {
      const line = order(facts, day, n, random)
      if (day < today) bunches += pack(facts, day, line, came, person)
    }
    if (day < today) for (const [cell, stems] of came) writeOff(facts, day, cell, stems, random)
  }
  return { facts, bunches }
}

function ground(farm: FarmID, person: PersonID): Fact[] {
  const facts = [
    ...personFacts({ id: person, name: 'Ilse' }),
    ...farmFacts({ id: farm, name: 'Made-up year', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...termsFacts({ id: farm }, { currency: 'EUR', coolerDays: 7, overCut: 4, payDays: 14 }),
    ...colours.flatMap(colourFacts),
    ...channelFacts(channel, { name: 'Florists', kind: 'wholesale', commission: 0, fee: 0 as Cents, days: '' as never }),
    ...bunchFacts({ id: rule, name: 'Ten firsts', stems: 10, grade: 'second', length: 300 as Millimetres }),
    ...priceFacts({ id: 'price' as PriceID, channel, buyer: '', colour: '', bunch: rule, from: '', cents: 540 as Cents }),
  ]
  for (let n = 1; n <= beds; n++) facts.push(...bedFacts(bedWith({ id: `bed${n}` as BedID, name: `Strip ${n}`, lines: 3 })))
  for (let n = 0; n < buyers; n++) facts.push(...buyerFacts(`buyer${n}` as BuyerID, { name: `Shop ${n + 1}`, channel, address: `Lane ${n + 1}` }))
  return facts
}

/** A bench total a bed, as lots with the stems that are left of each. */
function bench(facts: Fact[], day: Day, random: Random): [LotID, number][] {
  const came: [LotID, number][] = []
  for (let n = 1; n <= beds; n++) {
    const bed = `bed${n}` as BedID
    const counts: Count[] = colours.map((colour) => ({
      colour: colour.id, grade: random.pick(grades), length: { lo: 400 as Millimetres, hi: 500 as Millimetres }, stems: random.between(30, 55),
    }))
    facts.push(...visitFacts(visitWith({ id: `bench ${bed} ${day}` as VisitID, bed, date: day, purpose: 'bench', counts })))
    for (const { colour, grade, length, stems } of counts) came.push([{ bed, cut: day, colour, grade, length }, stems])
  }
  return came
}

function order(facts: Fact[], day: Day, n: number, random: Random): Line {
  const buyer = `buyer${random.between(0, buyers - 1)}` as BuyerID
  const id = `order ${day} ${n}` as OrderID
  const line: Line = {
    id: `line ${day} ${n}` as LineID, order: id, standing: '', bunch: rule, bunches: bunchesALine, stems: 10, grade: 'second', length: 300 as Millimetres,
    colours: random.chance(0.5) ? [] : [random.pick(colours).id as ColourID], whole: false, exact: false, price: 540 as Cents,
  }
  facts.push(...orderFacts({ id, buyer, due: day, taken: addDays(day, -3), note: '' }), ...lineFacts(line))
  return line
}

function pack(facts: Fact[], day: Day, line: Line, came: [LotID, number][], person: PersonID): number {
  const fits = came.filter(([lot, left]) => left > 0 && (line.colours.length === 0 || line.colours.includes(lot.colour as ColourID)))
  const there = fits.reduce((sum, [, left]) => sum + left, 0)
  const bunches = Math.min(line.bunches, Math.floor(there / line.stems))
  if (bunches === 0) return 0
  const id = `packed ${line.id}` as PackedID
  facts.push(...packedFacts({ id, line: line.id, buyer: 'buyer0' as BuyerID, due: day, date: day, person }), packedCount(id, 'bunches', bunches))
  let wanted = bunches * line.stems
  for (const lot of fits) {
    const taken = Math.min(wanted, lot[1])
    lot[1] -= taken
    wanted -= taken
    if (taken > 0) facts.push(packedCount(id, lotCell(lot[0]), taken))
  }
  return bunches
}

function writeOff(facts: Fact[], day: Day, lot: LotID, stems: number, random: Random): void {
  if (stems === 0 || random.chance(0.1)) return
  facts.push(...shrinkFacts({ id: `shrink ${lotCell(lot)}` as ShrinkID, lot, stems, reason: 'too_old', what: '', date: day, person: '' }))
  if (random.chance(0.05)) {
    facts.push(...claimFacts({
      id: `claim ${lotCell(lot)}` as ClaimID, line: `line ${day} 1` as LineID, buyer: 'buyer1' as BuyerID, due: day, lot, stems: 10, reason: 'wilted', back: false,
      credit: 300 as Cents, what: '', date: day, person: '',
    }))
  }
}
