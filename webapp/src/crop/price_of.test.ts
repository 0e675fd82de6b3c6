import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { withdrawnFact } from './facts'
import type { ColourID, Day, Grade, ToldGrade } from './nouns'
import { belowFloor, channelOf, floorOf, linePrice, priceOf } from './price_of'
import { buyerFacts, channelFacts, priceFacts } from './sale_facts'
import type { BunchID, BuyerID, Cents, ChannelID, PriceID } from './sale_nouns'
import { farmSaid } from './testing/said'

interface Quoted {
  name: string; buyer: BuyerID; bunch: BunchID | ''; colours: ColourID[]; due: Day; price?: PriceID; cents?: Cents; several?: boolean; without?: ColourID[]
}
const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/sales.json'), 'utf8')) as {
  lists: { id: PriceID; channel: ChannelID; buyer: BuyerID | ''; colour: ColourID | ''; bunch: BunchID; since: Day | ''; cents: Cents }[]
  quotes: Quoted[]
  floors: { name: string; cents: Cents; floor: Cents; stems: number; below: boolean }[]
}

const channel = 'ch' as ChannelID
const { sales } = farmSaid(
  channelFacts(channel, { name: 'Florists' }),
  ...['cafe', 'studio', 'gone'].map((id) => buyerFacts(id as BuyerID, { name: id, channel })), buyerFacts('stray' as BuyerID, { name: 'stray' }),
  ...vectors.lists.map(({ since, ...price }) => priceFacts({ ...price, from: since })),
  [withdrawnFact('buyer', 'gone', true, 'shed')], [withdrawnFact('channel', 'ch', true, 'shed')],
)

describe('a bunch is looked up in the price lists', () => {
  it.each(vectors.quotes)('$name', ({ buyer, bunch, colours, due, price, cents = 0, several = false, without = [] }) => {
    expect(priceOf(sales, buyer, bunch, colours, due)).toEqual({ price, cents, several, without })
    expect(linePrice(sales, buyer, { price: 0 as Cents, bunch, colours }, due)).toBe(cents)
  })

  it('unless a price was agreed', () => {
    expect(linePrice(sales, 'cafe' as BuyerID, { price: 7 as Cents, bunch: 'ten' as BunchID, colours: [] }, '2026-06-03' as Day)).toBe(7)
  })
})

describe('a price is held against the floor in whole cents', () => {
  it.each(vectors.floors)('$name', ({ cents, floor, stems, below }) => expect(belowFloor(cents, floor, stems)).toBe(below))

  const floors = { floor: new Map<Grade, Cents>([['second', 20 as Cents], ['extra', 60 as Cents]]) }
  it.each<[ToldGrade, number]>([['', 20], ['second', 20], ['first', 0], ['extra', 60]])('of the least grade "%s" it is %i', (grade, floor) => {
    expect(floorOf(floors, grade)).toBe(floor)
  })
})

it('a deleted channel is still that of its buyers', () => expect(channelOf(sales, 'cafe' as BuyerID)?.name).toBe('Florists'))
