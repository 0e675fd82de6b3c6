import { describe, expect, it } from 'vitest'
import type { Ask, AskID } from '../crop/ahead_nouns'
import type { Deed } from '../crop/deed'
import { lineFacts, orderFacts, packedCount, packedFacts, bunchFacts, buyerFacts, priceFacts } from '../crop/sale_facts'
import type { Farm, Millimetres, ColourID, Day } from '../crop/nouns'
import type { Bunch, BuyerID, Cents, ChannelID, LineID, OrderID, PackedID, PriceID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { acceptChance, perMille } from '../forecast/clashes'
import { answerOtherwise, inBunches, inWholeBunches, isNews, isPacked, keepAsk, promiseStems, type PromisedStems, withdrawAsk } from './promise_deeds'

const day = '2026-06-04' as Day
const studio = 'studio' as BuyerID
const ten: Bunch = { id: 'ten' as Bunch['id'], name: 'Ten first', stems: 10, grade: 'first', length: 400 as Millimetres }
const ground: readonly Fact[] = [
  ...buyerFacts(studio, { name: 'Studio', channel: 'florists' as ChannelID }), ...bunchFacts(ten),
  ...priceFacts({ id: 'p' as PriceID, channel: 'florists' as ChannelID, buyer: '', colour: '', bunch: ten.id, from: '', cents: 560 as Cents }),
]
const order = orderFacts({ id: 'theirs' as OrderID, buyer: studio, due: day, taken: day, note: '' })

function askWith(part: Partial<Ask> = {}): Ask {
  return {
    id: 'ask' as AskID, buyer: '', note: '', stems: 220, colours: ['ember' as ColourID], grade: 'first', length: 400 as Millimetres, from: day, due: day,
    taken: '2026-06-01' as Day, person: '', answer: '', offered: 0, chance: 0, order: '', price: 0 as Cents, ...part,
  }
}

const promising = (part: Partial<PromisedStems> = {}): PromisedStems =>
  ({ ask: askWith({ chance: 912 }), buyer: studio, day, taken: '2026-06-03' as Day, bunch: ten.id, stems: 185, order: 'fresh' as OrderID, ...part })
const promised = (farm: Farm) => promiseStems(farm, promising())

/** What of asks and orders shows, so that farms can be compared. */
function shown({ sales, ahead }: Farm) {
  return { asks: [...ahead.asks.values()], orders: [...sales.orders.values()], lines: [...sales.lines.values()] }
}

describe('promising', () => {
  const farm = (facts: readonly Fact[]) => { const before = farmSaid([...ground, ...facts]); return farmSaid([...ground, ...facts, ...promised(before).facts]) }

  it('makes an order of the day on which it is promised, with a line in whole bunches at the list price, and keeps the ask with what was told', () => {
    const { asks, orders, lines } = shown(farm([]))
    expect(orders).toEqual([{ id: 'fresh', buyer: studio, due: day, taken: '2026-06-03', note: '' }])
    expect(lines).toMatchObject([{ id: 'ask', order: 'fresh', bunch: 'ten', bunches: 18, stems: 10, grade: 'first', length: 400, colours: ['ember'], price: 560 }])
    expect(asks).toMatchObject([{ id: 'ask', buyer: studio, stems: 220, answer: 'promised', offered: 180, chance: 912, order: 'fresh', price: 56 }])
  })

  it('adds the line to an order that the buyer has on that day', () => {
    const { orders, lines, asks } = shown(farm(order))
    expect([orders.map(({ id }) => id), lines.map((line) => line.order), asks.map((ask) => ask.order)]).toEqual([['theirs'], ['theirs'], ['theirs']])
  })
})

describe('each deed', () => {
  const withPromise: readonly Fact[] = [...ground, ...promised(farmSaid(ground)).facts]
  const inTheirs: readonly Fact[] = [...ground, ...order, ...lineFacts({ ...[...farmSaid(withPromise).sales.lines.values()][0]!, id: 'other' as LineID, order: 'theirs' as OrderID }), ...promised(farmSaid([...ground, ...order])).facts]
  const cases: Record<string, { readonly before: readonly Fact[]; readonly deed: (farm: Farm) => Deed; readonly after: object }> = {
    'keeps an open ask': { before: ground, deed: (farm) => keepAsk(farm, askWith()), after: { asks: [askWith()], orders: [], lines: [] } },
    'promises': { before: ground, deed: promised, after: { asks: [{ answer: 'promised' }], lines: [{ bunches: 18 }] } },
    'promises an ask that was kept open': { before: [...ground, ...keepAsk(farmSaid(ground), askWith()).facts], deed: promised, after: { asks: [{ answer: 'promised' }] } },
    'takes a promise back with its order': { before: withPromise, deed: (farm) => answerOtherwise(farm, askOf(farm), 'declined'), after: { asks: [{ answer: 'declined', offered: 0, chance: 0, order: '' }], orders: [], lines: [] } },
    'takes a promise back out of an order that holds more': { before: inTheirs, deed: (farm) => answerOtherwise(farm, askOf(farm), ''), after: { orders: [{ id: 'theirs' }], lines: [{ id: 'other' }] } },
    'takes an ask away that was kept by mistake': { before: withPromise, deed: (farm) => withdrawAsk(farm, askOf(farm)), after: { asks: [], orders: [], lines: [] } },
    'accepts a lower chance': { before: withPromise, deed: (farm) => acceptChance(askOf(farm), 0.5), after: { asks: [{ chance: 500 }] } },
  }

  it.each(Object.entries(cases))('%s, and its undo brings all back', (_, { before, deed, after }) => {
    const { facts, undo } = deed(farmSaid(before))
    expect(shown(farmSaid([...before, ...facts]))).toMatchObject(after)
    expect(shown(farmSaid([...before, ...facts, ...undo]))).toEqual(shown(farmSaid(before)))
  })

  it('promises again under the same id what was taken back', () => {
    const back = [...withPromise, ...answerOtherwise(farmSaid(withPromise), askOf(farmSaid(withPromise)), '').facts]
    const { lines, orders } = shown(farmSaid([...back, ...promiseStems(farmSaid(back), promising({ order: 'second' as OrderID, stems: 50 })).facts]))
    expect([lines, orders]).toMatchObject([[{ id: 'ask', order: 'second', bunches: 5 }], [{ id: 'second' }]])
  })

  it('knows when something is packed for a promise', () => {
    const packed = [...packedFacts({ id: 'k' as PackedID, line: 'ask' as LineID, buyer: studio, due: day, date: day, person: '' }), packedCount('k' as PackedID, 'bunches', 1)]
    expect([withPromise, [...withPromise, ...packed]].map((facts) => isPacked(farmSaid(facts), askWith()))).toEqual([false, true])
  })
})

describe('a reply', () => {
  const kept = askWith({ colours: ['ember', 'coral'] as ColourID[] })

  it.each<[string, Partial<Ask>]>([
    ['a colour', { colours: ['ember'] as ColourID[] }], ['the day', { from: '2026-06-05' as Day, due: '2026-06-05' as Day }], ['the stems', { stems: 221 }], ['what is offered', { offered: 10 }],
    ['the grade', { grade: 'extra' }], ['the length', { length: 500 as Millimetres }], ['the buyer', { buyer: studio }],
  ])('is kept where %s changed, but not over an answer', (_, other) => {
    expect(isNews(kept, { ...kept, ...other })).toBe(true)
    for (const answer of ['promised', 'declined', 'went_elsewhere'] as const) expect(isNews({ ...kept, answer }, { ...kept, ...other })).toBe(false)
  })

  it.each<[string, Partial<Ask>]>([['the same', {}], ['another chance', { chance: 500 }], ['its colours in another order', { colours: ['coral', 'ember'] as ColourID[] }]])('that says %s is not kept again', (_, other) => {
    expect(isNews(kept, { ...kept, ...other })).toBe(false)
  })

  it('of an ask that is not kept is news', () => expect(isNews(undefined, kept)).toBe(true))
})

describe('stems in bunches', () => {
  it.each([[185, ten, 18, 10], [180, undefined, 18, 10], [185, undefined, 37, 5], [183, undefined, 183, 1], [12_343, undefined, 2_468, 5], [9, ten, 0, 10]] as const)('%d by %o are %d of %d', (stems, rule, bunches, each) => {
    expect(inBunches(stems, rule)).toEqual({ bunches, stems: each })
  })
})

it.each([[0, 10, 0], [5, 10, 10], [10, 10, 10], [19, 10, 10], [7, 1, 7]])('%d asked for in bunches of %d are %d to promise: never more than a bunch for less than one', (stems, each, wanted) => {
  expect(inWholeBunches(stems, each)).toBe(wanted)
})

it.each([[0.9, 900], [0.9999, 999], [0.00001, 1], [0.712, 712]])('a chance of %d is kept as %d per mille', (chance, kept) => {
  expect(perMille(chance)).toBe(kept)
})

function askOf(farm: Farm): Ask {
  return farm.ahead.asks.get('ask' as AskID)!
}
