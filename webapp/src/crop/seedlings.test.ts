import { describe, expect, it } from 'vitest'
import { bringBack, bringBackBed, leaveOutVisits, recordedAt, type Recorded, withdrawPlant } from './mistakes'
import { bedFacts, plantFacts, plantingFacts, stockFacts, visitFacts, withdrawnFact } from './facts'
import { move, undoing } from './lineage'
import type { BedID, Day, PhotoHash, Plant, PlantID, PlantingID, Stay, StockID, VisitID } from './nouns'
import { footLeft, footOf, isSeedling, nearestTo, selfSow, standsBeside } from './seedlings'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from './testing/nouns'
import { farmSaid } from './testing/said'

const b = 'b' as BedID
const k = 'k' as PlantID
const ground = [...bedFacts(bedWith()), ...stockFacts(stockWith()), ...plantingFacts(plantingWith()), ...plantFacts(plantWith({ id: k, code: 'K', line: 1, number: 1 }))]
const before = farmSaid(ground)
const own = {
  stock: stockWith({ id: 'w' as StockID, name: 'Kiln mix, self-sown', origin: 'self_sown', from: 's' as StockID }),
  planting: plantingWith({ id: 'wg' as PlantingID, stock: 'w' as StockID }),
}
const id = 'w1' as PlantID

describe('a self-sown seedling', () => {
  it('at a plant’s foot has no parents and no place of its own', () => {
    const deed = selfSow(before, { id, code: 'W', at: { beside: k } }, own)
    const farm = farmSaid(ground, deed.facts)
    expect(farm.plants.get(id)).toMatchObject({ code: 'W', parents: [], beside: k, line: 0, planting: 'wg' })
    expect(standsBeside(farm.plants.get(id)!)).toBe(k)
    const away = farmSaid(ground, deed.facts, move(farm, farm.plants.get(id)!, { bed: b, line: 0, number: 0 }, '2026-05-04' as Day, 'm').facts)
    expect(standsBeside(away.plants.get(id)!)).toBe('')
    expect(isSeedling(farm, farm.plants.get(id)!)).toBe(true)
    expect(isSeedling(farm, farm.plants.get(k)!)).toBe(false)
    const undone = farmSaid(ground, deed.facts, undoing(farm, deed))
    expect([undone.plants, undone.plantings, undone.stocks]).toEqual([before.plants, before.plantings, before.stocks])
  })

  it('stays where it came up when the plant beside it is moved', () => {
    const farm = farmSaid(ground, selfSow(before, { id, code: 'W', at: { beside: k } }, own).facts)
    const after = farmSaid(ground, selfSow(before, { id, code: 'W', at: { beside: k } }, own).facts, move(farm, farm.plants.get(k)!, { bed: 'b2' as BedID, line: 3, number: 3 }, '2026-05-04' as Day, 'm').facts)
    expect(footOf(after, after.plants.get(id)!)).toEqual({ bed: b, line: 1, number: 1 })
    expect(footOf(after, after.plants.get(k)!)).toBeUndefined()
  })

  it('in a gap has the gap’s place, stands at nobody’s foot, and is one by its stock', () => {
    const farm = farmSaid(ground, selfSow(before, { id, code: 'W', at: { gap: { bed: b, line: 1, number: 2 } } }, own).facts)
    expect(farm.plants.get(id)).toMatchObject({ parents: [], beside: '', line: 1, number: 2 })
    expect(isSeedling(farm, farm.plants.get(id)!)).toBe(true)
  })
})

it.each<[string, Partial<Plant>[], string | undefined]>([
  ['the nearest along the line', [{ id: 'a' as PlantID, line: 1, number: 2 }, { id: 'c' as PlantID, line: 1, number: 9 }], 'a'],
  ['one without a place where there is no other', [{ id: 'a' as PlantID }], 'a'],
  ['none that is gone or in another bed', [{ id: 'a' as PlantID, line: 1, number: 5, removed: '2026-01-01' as Day }, { id: 'c' as PlantID, line: 1, number: 5, bed: 'b2' as BedID }], undefined],
])('of what stands near a gap is found %s', (_, plants, nearest) => {
  const farm = farmWith({ plantings: [plantingWith()], plants: plants.map(plantWith) })
  expect(nearestTo(farm, { bed: b, line: 1, number: 4 })?.id).toBe(nearest)
})

const stay: Stay = { bed: b, line: 1, number: 1, from: '', until: '2026-05-04' as Day }

it.each<[string, Partial<Plant>, Stay | undefined]>([
  ['nothing while it was never moved', { line: 1, number: 1 }, undefined],
  ['nothing of a move before the seedling came', { line: 1, number: 1, stood: [{ ...stay, until: '2025-01-01' as Day }] }, undefined],
  ['its former place after a move', { line: 3, number: 3, stood: [stay] }, stay],
  ['its former place after a move to another bed', { bed: 'b2' as BedID, line: 1, number: 1, stood: [stay] }, stay],
  ['its former bed where no place in it was known', { line: 3, number: 3, stood: [{ ...stay, line: 0, number: 0 }] }, { ...stay, line: 0, number: 0 }],
  ['nothing once it is back', { line: 1, number: 1, stood: [stay, { ...stay, line: 3, until: '2026-06-01' as Day }] }, undefined],
])('the plant at a seedling’s foot left %s', (_, foot, left) => {
  const seedling = plantWith({ id, beside: k })
  const farm = farmWith({ plantings: [plantingWith()], plants: [plantWith({ id: k, ...foot }), seedling] })
  expect(footLeft(farm, seedling)).toEqual(left)
})

it.each<[string, Recorded | undefined, Partial<Parameters<typeof farmWith>[0]>, Partial<Plant>]>([
  ['a plant of a tray at which nothing was recorded', undefined, {}, {}],
  ['one that was counted', 'visits', { visits: [visitWith({ plant: k, date: '2026-05-04' as Day })] }, {}],
  ['one in a photo', 'photos', {}, { photos: [{ hash: 'h' as PhotoHash, at: 1 }] }],
  ['one that was divided', 'divided', { plants: [plantWith({ id, parents: [k] })] }, {}],
  ['one whose division was withdrawn', undefined, { gone: { plants: [plantWith({ id, parents: [k] })] } }, {}],
])('of %s is known that it was there by: %s', (_, recorded, told, own) => {
  const plant = plantWith({ id: k, ...own })
  expect(recordedAt(farmWith({ ...told, plants: [plant, ...told.plants ?? []] }), plant)).toBe(recorded)
})

describe('a plant that was entered by mistake', () => {
  const deed = selfSow(before, { id, code: 'W', at: { beside: k } }, own)

  it('is withdrawn and keeps its name', () => {
    const farm = farmSaid(ground, deed.facts, withdrawPlant(id).facts)
    expect([farm.plants.has(id), farm.withdrawn.plants.get(id)?.code]).toEqual([false, 'W'])
  })

  it('comes back with its planting and stock where they were undone with it', () => {
    const there = farmSaid(ground, deed.facts)
    const undone = farmSaid(ground, deed.facts, undoing(there, deed))
    const back = farmSaid(ground, deed.facts, undoing(there, deed), bringBack(undone, id))
    expect([back.plants, back.plantings, back.stocks]).toEqual([there.plants, there.plantings, there.stocks])
    expect([...back.withdrawn.plants, ...back.withdrawn.plantings, ...back.withdrawn.stocks]).toEqual([])
  })

  it('a bed that was taken away comes back by a plant that stands in it', () => {
    const gone = farmSaid(ground, [withdrawnFact('bed', b, true)])
    expect(farmSaid(ground, [withdrawnFact('bed', b, true)], bringBackBed(gone, k)).beds).toEqual(before.beds)
    expect(bringBackBed(before, k)).toEqual([])
  })

  it('stays withdrawn where its visits are left out, each in its own scope', () => {
    const visit = visitWith({ id: 'v' as VisitID, plant: id, date: '2026-05-04' as Day })
    const farm = farmSaid(ground, deed.facts, visitFacts(visit), withdrawPlant(id).facts)
    expect(farmSaid(ground, deed.facts, visitFacts(visit), withdrawPlant(id).facts, leaveOutVisits(farm, id)).visitsOf.get(id)?.size ?? 0).toBe(0)
  })
})
