// What is sold, written as facts. Mirrors internal/farm/sale_facts.go. What only owners may read is of scope money.

import type { Fact } from '../log/change'
import { extraAfter, extraSaw } from '../log/identity'
import { Facts } from './facts'
import { lotCell } from './lots'
import type { ColourID, Day, Farm, Grade } from './nouns'
import type {
  Bunch, Buyer, BuyerID, Cents, Channel, ChannelID, Claim, Line, Order, Packed, PackedID, Price, SaleTerms, Shrink, StandingID, StandingOrder,
} from './sale_nouns'

/** How the farm sells: a field that is not given stays as it is. What a broken promise costs has facts of its own. */
export function termsFacts(farm: Pick<Farm, 'id'>, t: Partial<Omit<SaleTerms, 'breakCost'>>): Fact[] {
  const shed = new Facts('farm', farm.id, 'shed').given('seller', t.seller).given('cooler_days', t.coolerDays).given('over_cut', t.overCut)
  const money = new Facts('farm', farm.id, 'money').given('currency', t.currency).given('pay_days', t.payDays)
  return [...shed.list, ...money.given('tax_rate', t.taxRate).given('tax_name', t.taxName).list]
}

/** What of a channel is told: a field that is not given stays as it is. */
export function channelFacts(id: ChannelID, c: Partial<Omit<Channel, 'id' | 'floor'>>): Fact[] {
  const shed = new Facts('channel', id, 'shed').given('name', c.name).given('kind', c.kind).given('cutoff_days', c.cutoffDays)
  const money = new Facts('channel', id, 'money').given('commission', c.commission).given('fee', c.fee)
  shed.given('cutoff_time', c.cutoffTime).given('days', c.days)
  return [...shed.list, ...money.given('buyer_pays', c.buyerPays === undefined ? undefined : c.buyerPays ? 1 : 0).list]
}

/** The least that a stem of a grade may go for; 0 takes it away. */
export function floorFacts(channel: ChannelID, grade: Grade, cents: Cents): Fact[] {
  return new Facts('channel', channel, 'money').set(`floor.${grade}`, cents).list
}

/** What of a buyer is told. */
export function buyerFacts(id: BuyerID, b: Partial<Omit<Buyer, 'id' | 'accepts'>>): Fact[] {
  const facts = new Facts('buyer', id, 'shed').given('name', b.name).given('channel', b.channel).given('address', b.address)
  return facts.given('phone', b.phone).given('email', b.email).given('note', b.note).list
}

/** Which colour classes a buyer takes in place of one. */
export function acceptsFacts(buyer: BuyerID, asked: ColourID, others: readonly ColourID[]): Fact[] {
  return new Facts('buyer', buyer, 'shed').set(`accepts.${asked}`, [...others]).list
}

export function bunchFacts(b: Bunch): Fact[] {
  return new Facts('bunch', b.id, 'shed').set('name', b.name).set('stems', b.stems).set('grade', b.grade).set('least', b.length).list
}

export function priceFacts(p: Price): Fact[] {
  const facts = new Facts('price', p.id, 'money').set('channel', p.channel).set('buyer', p.buyer).set('colour', p.colour)
  return facts.set('bunch', p.bunch).set('since', p.from).set('cents', p.cents).list
}

export function orderFacts(o: Order): Fact[] {
  const facts = new Facts('order', o.id, 'shed').set('buyer', o.buyer).set('due', o.due)
  return facts.told('taken', o.taken).set('note', o.note).list
}

/** A standing order but for the days that it leaves out. */
export function standingFacts(s: Omit<StandingOrder, 'skips'>): Fact[] {
  const facts = new Facts('standing', s.id, 'shed').set('buyer', s.buyer).set('since', s.from).set('last', s.until)
  return facts.set('days', s.days).set('every', s.every).set('note', s.note).list
}

/** Leaves a day of a standing order out, or takes that back. */
export function skipFacts(standing: StandingID, day: Day, on: boolean): Fact[] {
  return new Facts('standing', standing, 'shed').say(on ? 'add' : 'remove', 'skips', day).list
}

export function lineFacts(l: Line): Fact[] {
  const facts = new Facts('line', l.id, 'shed').told('order', l.order).told('standing', l.standing).told('bunch', l.bunch)
  facts.set('bunches', l.bunches).set('stems', l.stems).set('grade', l.grade).set('least', l.length).set('colours', [...l.colours])
  facts.set('whole', l.whole ? 1 : 0).set('exact', l.exact ? 1 : 0)
  return [...facts.list, ...new Facts('line', l.id, 'money').set('cents', l.price).list]
}

/** The rule for its bunches where it has none, which `lineFacts` leaves out. */
export function bunchFact(l: Line): Fact[] {
  return l.bunch === '' ? new Facts('line', l.id, 'shed').set('bunch', '').list : []
}

/** That something is being packed; its counts come by `packedCount`. */
export function packedFacts(p: Omit<Packed, 'bunches' | 'stems'>): Fact[] {
  const facts = new Facts('packed', p.id, 'shed').set('of', p.line).set('buyer', p.buyer).set('due', p.due)
  return facts.set('date', p.date).told('person', p.person).list
}

/** How many bunches, or stems of a lot (`lotCell`), this device has packed under an id. */
export function packedCount(packed: PackedID, cell: string, n: number): Fact {
  return { scope: 'shed', op: 'count', type: 'packed', id: packed, field: cell, value: n }
}

/** A signed correction of a count of what was packed, with the total that its maker saw and the tips that stood there. */
export function packedCorrect(packed: PackedID, cell: string, by: number, saw: number, tips: readonly string[]): Fact {
  const extra = { [extraSaw]: saw, ...(tips.length > 0 && { [extraAfter]: tips }) }
  return { scope: 'shed', op: 'correct', type: 'packed', id: packed, field: cell, value: by, extra }
}

export function shrinkFacts(s: Shrink): Fact[] {
  const facts = new Facts('shrink', s.id, 'shed').set('lot', lotCell(s.lot)).set('stems', s.stems).set('reason', s.reason)
  return facts.told('what', s.what).set('date', s.date).told('person', s.person).list
}

export function claimFacts(c: Claim): Fact[] {
  const facts = new Facts('claim', c.id, 'shed').set('of', c.line).set('buyer', c.buyer).set('due', c.due).set('stems', c.stems)
  facts.set('lot', c.lot ? lotCell(c.lot) : '').set('reason', c.reason).set('back', c.back ? 1 : 0).set('what', c.what)
  facts.set('date', c.date).told('person', c.person)
  return [...facts.list, ...new Facts('claim', c.id, 'money').told('cents', c.credit).list]
}

/** The fields in which a claim differs from what it was: others may be changed elsewhere. */
export function claimChanges(before: Claim, after: Claim): Fact[] {
  const was = new Map([...claimFacts(before), creditFact(before)].map(({ field, value }) => [field, value]))
  return [...claimFacts(after).filter(({ field }) => field !== 'cents'), creditFact(after)].filter(({ field, value }) => was.get(field) !== value)
}

function creditFact({ id, credit }: Claim): Fact {
  return new Facts('claim', id, 'money').set('cents', credit).list[0]!
}
