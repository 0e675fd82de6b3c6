import { describe, expect, it } from 'vitest'
import { bedFacts, plantFacts, plantingFacts, stockFacts } from './facts'
import { kinOf } from './kin'
import type { Deed } from './deed'
import {
  correctPlace, divide, groundDeed, mayDivide, move, type Parent, plantingLike, protectedStock, settlePlace, stockFrom, takeOut, undoing,
} from './lineage'
import type { BedID, Day, Farm, Place, Plant, PlantID, PlantingID, Season, StockID } from './nouns'
import { bedOn, placeKey } from './places'
import { bedWith, farmWith, plantingWith, plantWith, stockWith } from './testing/nouns'
import { farmSaid } from './testing/said'

const [b, b2] = ['b', 'b2'] as BedID[]
const may = '2026-05-04' as Day
const place = (line: number, number: number, bed: BedID = b!): Place => ({ bed, line, number })

const ground = [
  ...bedFacts(bedWith({ id: b! })), ...bedFacts(bedWith({ id: b2! })), ...stockFacts(stockWith({ name: 'Kiln mix' })), ...plantingFacts(plantingWith({ bed: b! })),
  ...plantFacts(plantWith({ id: 'k' as PlantID, code: 'K', line: 1, number: 1, colour: 'red' as Plant['colour'] })),
]
const k = (farm: Farm): Plant => farm.plants.get('k' as PlantID)!
const before = farmSaid(ground)

describe('moving a plant', () => {
  const moved = move(before, k(before), place(2, 5, b2!), may, 'm1')

  it('takes it there from that day on, and tells where it stood', () => {
    const farm = farmSaid(ground, moved.facts)
    expect(k(farm)).toMatchObject({ bed: 'b2', line: 2, number: 5 })
    expect([bedOn(farm, k(farm), '2026-05-03' as Day), bedOn(farm, k(farm), may)]).toEqual(['b', 'b2'])
    expect(k(farm).stood).toEqual([{ bed: 'b', line: 1, number: 1, from: '2025-09-18', until: may }])
  })

  it('is undone without a trace', () => {
    expect(k(farmSaid(ground, moved.facts, moved.undo))).toEqual(k(before))
  })

  it('undone by one leaves what another told of where it stood', () => {
    const other = move(before, k(before), place(1, 9), may, 'm2')
    const farm = farmSaid(ground, moved.facts, other.facts, moved.undo)
    expect(k(farm).stood).toHaveLength(1)
    expect(k(farm)).toMatchObject({ bed: 'b', line: 1, number: 9 })
  })

  it('back to where it came from on the same day is a move of its own', () => {
    const there = farmSaid(ground, moved.facts)
    const again = farmSaid(ground, moved.facts, move(there, k(there), place(2, 5, b2!), may, 'm2').facts)
    expect(k(again).places.map(({ move: name }) => name)).toEqual(['m2'])
  })

  it('where nobody saw the other leaves both places, and the one settled on stays alone', () => {
    const farm = farmSaid(ground, moved.facts, move(before, k(before), place(1, 9), may, 'm2').facts)
    expect(k(farm).places.map(placeKey)).toEqual(['1/9/b', '2/5/b2'])
    const settled = farmSaid(ground, moved.facts, move(before, k(before), place(1, 9), may, 'm2').facts, settlePlace(k(farm), k(farm).places[1]!))
    expect(k(settled).places.map(placeKey)).toEqual(['2/5/b2'])
  })
})

it('a place that was written down wrong is put right without a move', () => {
  const deed = correctPlace(before, k(before), place(3, 2, b2!), may, 'c1')
  const farm = farmSaid(ground, deed.facts)
  expect(k(farm)).toMatchObject({ bed: 'b2', line: 3, number: 2, stood: [] })
  expect(bedOn(farm, k(farm), '2025-10-01' as Day)).toBe('b2')
  expect(k(farmSaid(ground, deed.facts, deed.undo))).toEqual(k(before))
})

it('a plant that is taken out is gone from that day, and back when that is undone', () => {
  const deed = takeOut([k(before)], may)
  expect(k(farmSaid(ground, deed.facts)).removed).toBe(may)
  expect(k(farmSaid(ground, deed.facts, deed.undo)).removed).toBe('')
})

const divided = stockWith({ id: 'd' as StockID, name: 'Kiln mix, divided', origin: 'division', from: 's' as StockID })
const set = plantingWith({ id: 'dg' as PlantingID, stock: divided.id, bed: b2!, planted: may, firstSeason: 2026 as Season })
const children = [1, 2].map((n) => ({ id: `c${n}` as PlantID, code: `C${n}`, place: place(1, n, b2!) }))
const dividing = (becomes: Parent): Deed => divide(before, k(before), children, { planting: set, stock: divided }, becomes)

describe('dividing a plant', () => {
  it('makes plants of a new planting with it as parent, in its colour', () => {
    const farm = farmSaid(ground, dividing({ becomes: 'kept' }).facts)
    expect(kinOf(farm, 'k' as PlantID).children.map((id) => farm.plants.get(id))).toMatchObject([
      { code: 'C1', line: 1, number: 1, colour: 'red', parents: ['k'] }, { code: 'C2', line: 1, number: 2, colour: 'red', parents: ['k'] },
    ])
    expect(farm.plantings.get(set.id)).toEqual(set)
    expect(farm.stocks.get(divided.id)).toEqual(divided)
  })

  it.each<[Parent, Partial<Plant>]>([
    [{ becomes: 'kept' }, { removed: '', line: 1, number: 1 }],
    [{ becomes: 'taken_out' }, { removed: may }],
    [{ becomes: 'moved', to: place(3, 3), named: 'm1' }, { removed: '', line: 3, number: 3 }],
  ])('leaves the plant itself as told: %j', (becomes, stands) => {
    expect(k(farmSaid(ground, dividing(becomes).facts))).toMatchObject(stands)
  })

  it.each<Parent>([{ becomes: 'kept' }, { becomes: 'taken_out' }, { becomes: 'moved', to: place(3, 3), named: 'm1' }])('is undone whole: %j', (becomes) => {
    const deed = dividing(becomes)
    const there = farmSaid(ground, deed.facts)
    const farm = farmSaid(ground, deed.facts, undoing(there, deed))
    expect([farm.plants, farm.plantings, farm.stocks]).toEqual([before.plants, before.plantings, before.stocks])
    expect([...farm.withdrawn.plants.keys()]).toEqual(['c1', 'c2'])
  })

  it('undone leaves the planting and the stock in which another plant was set since', () => {
    const deed = dividing({ becomes: 'kept' })
    const since = plantFacts(plantWith({ id: 'later' as PlantID, code: 'L', planting: set.id }))
    const there = farmSaid(ground, deed.facts, since)
    const farm = farmSaid(ground, deed.facts, since, undoing(there, deed))
    expect([...farm.plants.keys()]).toEqual(['k', 'later'])
    expect([farm.plantings.has(set.id), farm.stocks.has(divided.id)]).toEqual([true, true])
  })

  it('says nothing of a planting and a stock that the farm has', () => {
    const there = farmSaid(ground, dividing({ becomes: 'kept' }).facts)
    expect(groundDeed(there, { planting: set, stock: divided })).toEqual({ facts: [], undo: [] })
    expect(plantingLike(there, divided.id, b2!, may, 2026 as Season)).toEqual(set)
    expect(plantingLike(there, divided.id, b2!, may, 2027 as Season)).toBeUndefined()
    expect(stockFrom(there, stockWith(), 'division')).toEqual(divided)
    expect(stockFrom(there, stockWith(), 'self_sown')).toBeUndefined()
  })
})

const stock = (id: string, from: string, isProtected = false) => stockWith({ id: id as StockID, from: from as StockID | '', protected: isProtected, name: id })

describe('whether a plant may be divided', () => {
  const cases: [string, Parameters<typeof farmWith>[0], ReturnType<typeof mayDivide>, string | undefined][] = [
    ['its stock is free', { stocks: [stock('s', '')] }, 'yes', undefined],
    ['its stock is protected', { stocks: [stock('s', '', true)] }, 'protected', 's'],
    ['what its stock came of is protected', { stocks: [stock('s', 'q'), stock('q', 'r'), stock('r', '', true)] }, 'protected', 'r'],
    ['what its stock came of was withdrawn, and protected', { stocks: [stock('s', 'q')], gone: { stocks: [stock('q', '', true)] } }, 'protected', 'q'],
    ['its stock is not known here', { stocks: [] }, 'unknown', undefined],
    ['what its stock came of is not known here', { stocks: [stock('s', 'q')] }, 'unknown', undefined],
    ['stocks came of each other, which cannot be, and none is protected', { stocks: [stock('s', 'q'), stock('q', 's')] }, 'yes', undefined],
    ['stocks came of each other, and one is protected', { stocks: [stock('s', 'q'), stock('q', 's', true)] }, 'protected', 'q'],
  ]
  it.each(cases)('where %s', (_, nouns, answer, why) => {
    const farm = farmWith({ plantings: [plantingWith()], ...nouns })
    expect(mayDivide(farm, plantWith())).toBe(answer)
    expect(protectedStock(farm, plantWith())?.id).toBe(why)
  })

  it('where it may not, dividing is refused whoever asks', () => {
    const farm = farmWith({ plantings: [plantingWith()], stocks: [stock('s', '', true)] })
    expect(() => divide(farm, plantWith(), children, { planting: set, stock: divided }, { becomes: 'kept' })).toThrow('nobody has said')
  })
})
