import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { breakCostFacts } from './ahead_facts'
import { byLife, cooler, lotsDay, type Lot } from './cooler'
import { daysOfStanding, dueBetween, dueOf } from './due'
import { visitFacts, withdrawnFact } from './facts'
import { lotCell, parseLotCell } from './lots'
import type { BedID, ColourID, Day, Millimetres, PersonID } from './nouns'
import {
  acceptsFacts, bunchFacts, buyerFacts, channelFacts, claimFacts, floorFacts, lineFacts, orderFacts, packedCount, packedFacts, priceFacts,
  shrinkFacts, skipFacts, standingFacts, termsFacts,
} from './sale_facts'
import type {
  Bunch, BuyerID, Cents, Channel, ChannelID, Claim, Line, LineID, LotID, Order, OrderID, PackedID, Price, Shrink, StandingID, StandingOrder, Weekdays,
} from './sale_nouns'
import { visitWith } from './testing/nouns'
import { farmID, farmSaid } from './testing/said'

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/sales.json'), 'utf8')) as {
  standings: { name: string; since: Day; last: Day | ''; days: Weekdays; every: number; skips: Day[]; from: Day; to: Day; want: Day[] }[]
  lots: { name: string; bad?: boolean; bed: BedID; cut: Day; colour: ColourID; grade: 'first'; lo: Millimetres; hi: Millimetres }[]
}

const lot: LotID = { bed: 'b' as BedID, cut: '2026-06-01' as Day, colour: 'c' as ColourID, grade: 'first', length: { lo: 400 as Millimetres, hi: 500 as Millimetres } }
const line: Line = {
  id: 'li' as LineID, order: 'or' as OrderID, standing: '', bunch: '', bunches: 6, stems: 10, grade: 'first', length: 400 as Millimetres,
  colours: ['c' as ColourID, 'd' as ColourID], whole: true, exact: true, price: 520 as Cents,
}
const order: Order = { id: 'or' as OrderID, buyer: 'bu' as BuyerID, due: '2026-06-04' as Day, taken: '2026-05-30' as Day, note: 'ring first' }
const standing: StandingOrder = {
  id: 'st' as StandingID, buyer: 'bu' as BuyerID, from: '2026-06-01' as Day, until: '', days: '14' as Weekdays, every: 1, skips: [], note: '',
}

describe('what is sold is read as it was written', () => {
  const channel: Omit<Channel, 'floor'> = {
    id: 'ch' as ChannelID, name: 'Florists', kind: 'co_op', commission: 1250, fee: 600 as Cents, buyerPays: true, cutoffDays: 2, cutoffTime: '18:00',
    days: '24' as Weekdays,
  }
  const buyer = { id: 'bu' as BuyerID, name: 'Studio Nord', channel: channel.id, address: 'Quay 4', phone: '1', email: 'a@example.org', note: 'back door' }
  const bunch: Bunch = { id: 'ten' as Bunch['id'], name: 'Ten', stems: 10, grade: 'first', length: 400 as Millimetres }
  const price: Price = { id: 'pr' as Price['id'], channel: channel.id, buyer: '', colour: 'c' as ColourID, bunch: bunch.id, from: '2026-05-01' as Day, cents: 520 as Cents }
  const packed = { id: 'pa' as PackedID, line: line.id, buyer: buyer.id, due: order.due, date: '2026-06-03' as Day, person: 'p' as PersonID }
  const shrink: Shrink = { id: 'sh' as Shrink['id'], lot, stems: 4, reason: 'wilted', what: 'top shelf', date: '2026-06-03' as Day, person: 'p' as PersonID }
  const claim: Claim = {
    id: 'cl' as Claim['id'], line: line.id, buyer: buyer.id, due: order.due, lot, stems: 10, reason: 'shattered', back: true, credit: 520 as Cents,
    what: 'on the table', date: '2026-06-05' as Day, person: '',
  }
  const { sales } = farmSaid(
    termsFacts({ id: farmID }, { currency: 'EUR', coolerDays: 6, overCut: 5, payDays: 14 }), breakCostFacts({ id: farmID }, 400),
    channelFacts(channel.id, channel), floorFacts(channel.id, 'first', 35 as Cents), buyerFacts(buyer.id, buyer),
    acceptsFacts(buyer.id, 'c' as ColourID, ['d' as ColourID]), bunchFacts(bunch), priceFacts(price), orderFacts(order), lineFacts(line),
    standingFacts(standing), skipFacts(standing.id, '2026-06-08' as Day, true), packedFacts(packed), [packedCount(packed.id, 'bunches', 3), packedCount(packed.id, lotCell(lot), 30)],
    shrinkFacts(shrink), claimFacts(claim),
  )
  it.each<[string, unknown, unknown]>([
    ['terms', sales.terms, { currency: 'EUR', seller: '', coolerDays: 6, overCut: 5, payDays: 14, taxRate: 0, taxName: '', breakCost: 400 }],
    ['a channel', sales.channels.get(channel.id), { ...channel, floor: new Map([['first', 35]]) }],
    ['a buyer', sales.buyers.get(buyer.id), { ...buyer, accepts: new Map([['c', ['d']]]) }],
    ['a rule for bunches', sales.bunches.get(bunch.id), bunch],
    ['a price', sales.prices.get(price.id), price],
    ['an order', sales.orders.get(order.id), order],
    ['a line', sales.lines.get(line.id), line],
    ['a standing order', sales.standings.get(standing.id), { ...standing, skips: ['2026-06-08'] }],
    ['what was packed', sales.packed.get(packed.id), { ...packed, bunches: 3, stems: new Map([[lotCell(lot), 30]]) }],
    ['shrink', sales.shrink.get(shrink.id), shrink],
    ['a claim', sales.claims.get(claim.id), claim],
  ])('%s', (_, got, want) => expect(got).toEqual(want))

  it('and filed by what it is asked for by', () => {
    expect([[...sales.linesOf.get(order.id)!], [...sales.ordersDue.get(order.due)!], [...sales.packedDue.get(order.due)!], [...sales.packedOf.get(line.id)!]])
      .toEqual([['li'], ['or'], ['pa'], ['pa']])
  })
})

describe('a standing order', () => {
  it.each(vectors.standings)('$name', ({ since, last, days, every, skips, from, to, want }) => {
    expect(daysOfStanding({ ...standing, from: since, until: last, days, every, skips }, from, to)).toEqual(want)
  })

  const ofStanding: Line = { ...line, id: 'sl' as LineID, order: '', standing: standing.id, bunches: 2 }
  const said: Fact[] = [...buyerFacts('bu' as BuyerID, { name: 'Studio' }), ...standingFacts(standing), ...lineFacts(ofStanding)]
  const written = orderFacts({ ...order, id: 'st@2026-06-04' as OrderID })

  it('gives its lines ids of the day', () => {
    const [due] = dueBetween(farmSaid(said).sales, '2026-06-02' as Day, '2026-06-05' as Day)
    expect([due?.order, due?.standing, due?.lines.map((l) => [l.id, l.order, l.standing, l.bunches])]).toEqual(['st@2026-06-04', 'st', [['sl@2026-06-04', 'st@2026-06-04', '', 2]]])
  })

  it('steps back where an order was written in its place', () => {
    const { sales } = farmSaid(said, written, lineFacts({ ...line, order: 'st@2026-06-04' as OrderID, bunches: 9 }))
    const due = dueBetween(sales, '2026-06-04' as Day, '2026-06-04' as Day)
    expect(due.map((d) => [d.standing, d.lines[0]?.bunches])).toEqual([['', 9]])
    expect(dueOf(sales, 'st@2026-06-04' as OrderID)?.standing).toBe('')
    expect(dueOf(sales, 'st@2026-06-08' as OrderID)?.standing).toBe('st')
    expect(dueOf(sales, 'st@2026-06-05' as OrderID)).toBeUndefined()
  })

  it('comes again when the order in its place is withdrawn, since only a skip leaves a day out', () => {
    const { sales } = farmSaid(said, written, [withdrawnFact('order', 'st@2026-06-04', true, 'shed')])
    expect(dueBetween(sales, '2026-06-04' as Day, '2026-06-04' as Day).map((d) => d.standing)).toEqual(['st'])
  })
})

describe('a lot’s name', () => {
  it.each(vectors.lots)('$name', ({ name, bad, bed, cut, colour, grade, lo, hi }) => {
    expect(parseLotCell(name)).toEqual(bad ? undefined : { bed, cut, colour, grade, length: { lo, hi } })
    if (!bad) expect(lotCell(parseLotCell(name)!)).toBe(name)
  })
})

it('the cooler holds what came over the bench less what was packed and written off, the oldest first', () => {
  const counts = (stems: number) => [{ colour: 'c' as ColourID, grade: 'first' as const, length: lot.length, stems }, { colour: '' as const, grade: 'out' as const, length: lot.length, stems: 5 }]
  const bench = (id: string, date: string, stems: number) => visitFacts(visitWith({ id: id as never, bed: lot.bed, purpose: 'bench', date: date as Day, counts: counts(stems) }))
  const packed = packedFacts({ id: 'pa' as PackedID, line: line.id, buyer: 'bu' as BuyerID, due: order.due, date: '2026-06-03' as Day, person: '' })
  const farm = farmSaid(
    bench('v', '2026-06-01', 50), bench('w', '2026-06-01', 10), bench('x', '2026-06-03', 20), bench('y', '2026-06-05', 20), packed,
    [packedCount('pa' as PackedID, lotCell(lot), 40), packedCount('pa' as PackedID, lotCell({ ...lot, cut: '2026-06-02' as Day }), 5)],
    shrinkFacts({ id: 'sh' as Shrink['id'], lot, stems: 3, reason: 'wilted', what: '', date: '2026-06-03' as Day, person: '' }),
  )
  const held = cooler(farm, '2026-06-04' as Day)
  expect(held.map(({ id, came, left, daysLeft }) => [id.cut, came, left, daysLeft])).toEqual([['2026-06-01', 60, 17, 4], ['2026-06-02', 0, -5, 5], ['2026-06-03', 20, 20, 6]])
})

it('a deleted buyer is kept beside the others', () => {
  const { sales } = farmSaid(buyerFacts('bu' as BuyerID, { name: 'Studio' }), [withdrawnFact('buyer', 'bu', true, 'shed')])
  expect([sales.buyers.size, sales.goneBuyers.get('bu' as BuyerID)?.name]).toEqual([0, 'Studio'])
})

it.each([
  ['on its last day', 0, 'fresh'], ['a day past its life', -1, 'past'], ['two months past it', -60, 'past'], ['longer ago', -61, 'gone'],
] as const)('a lot %s is told as such', (_, daysLeft, as) => {
  const held = byLife([{ id: lot, came: 9, packed: 0, shrink: 0, left: 9, daysLeft }, { id: lot, came: 9, packed: 10, shrink: 0, left: -1, daysLeft }])
  expect(Object.entries(held).flatMap(([name, lots]: [string, readonly Lot[]]) => lots.map(() => name))).toEqual([as])
})

it.each([
  ['ahead', '2026-06-01', '2026-06-04'], ['overdue', '2026-06-06', '2026-06-06'], ['overdue by a whole life', '2026-06-11', '2026-06-11'], ['long past', '2026-06-12', '2026-06-04'],
])('a day that is %s is packed of what has life on the right day', (_, today, want) => {
  expect(lotsDay(farmSaid().sales.terms, '2026-06-04' as Day, today as Day)).toBe(want)
})
