import { signal } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import { intentFacts } from '../crop/ahead_facts'
import { plantFacts, plantingFacts, stockFacts } from '../crop/facts'
import { undoing } from '../crop/lineage'
import type { BedID, Day, Farm, Place, PlaceSince, PlantID, Season, StockID } from '../crop/nouns'
import { farmWith, plantingWith, plantWith, stockWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import { today } from '../ui/today'
import type { Notebook } from '../sync/notebook'
import { divisibleFrom, type DivideForm, isTaken, lacking, newDivideForm, planDivision, seasonTold } from './divide_form'
import { stockOfNew } from './ground'

today.value = '2026-05-04' as Day
const b = 'b' as BedID
const at = (line: number, number: number): Place => ({ bed: b, line, number })
const form: DivideForm = {
  children: 2, day: '2026-05-04' as Day, season: undefined, becomes: 'kept',
  picked: { bed: b, places: [at(1, 1), at(1, 2)], somewhere: false }, goes: { bed: b, places: [], somewhere: false },
}

describe('of a division', () => {
  it.each<[string, Partial<DivideForm>, ReturnType<typeof lacking>]>([
    ['nothing is lacking', {}, undefined],
    ['a place', { children: 3 }, 'places'],
    ['no place where they stand somewhere', { children: 3, picked: { ...form.picked, somewhere: true } }, undefined],
    ['a day that is not ahead', { day: '2026-05-05' as Day }, 'day'],
    ['a day on which it was planted already', { day: '2025-09-17' as Day }, 'day'],
    ['a day', { day: '' as Day }, 'day'],
    ['where the plant itself goes', { becomes: 'moved' }, 'goes'],
    ['another place for the plant itself', { becomes: 'moved', goes: { bed: b, places: [at(1, 2)], somewhere: false } }, 'same_place'],
    ['nothing where it goes elsewhere', { becomes: 'moved', goes: { bed: b, places: [at(1, 3)], somewhere: false } }, undefined],
  ])('is told that there is lacking: %s', (_, part, lacks) => {
    expect(lacking(farmWith({ plantings: [plantingWith()] }), 'k' as PlantID, { ...form, ...part }, '2025-09-18' as Day)).toBe(lacks)
  })

  it.each<[string, Partial<DivideForm>, number, ReturnType<typeof lacking>]>([
    ['told while choosing that another plant came to stand in a chosen place', { becomes: 'taken_out' }, 2, 'taken'],
    ['told that the plant itself stays in a place that was chosen while it was to leave', { becomes: 'kept' }, 9, 'taken'],
    ['not told where it leaves', { becomes: 'taken_out' }, 9, undefined],
    ['told that another plant stands where the plant itself is to go', { becomes: 'moved', goes: { bed: b, places: [at(1, 5)], somewhere: false } }, 5, 'taken'],
    ['not told where they have no place yet', { becomes: 'kept', picked: { ...form.picked, somewhere: true } }, 2, undefined],
  ])('is %s', (_, part, other, lacks) => {
    const plants = [plantWith({ id: 'k' as PlantID, line: 1, number: 1 }), plantWith({ id: 'other' as PlantID, line: 1, number: other })]
    expect(lacking(farmWith({ plantings: [plantingWith()], plants }), 'k' as PlantID, { ...form, ...part }, '' as Day)).toBe(lacks)
  })

  it('the first season is proposed by the day, until another is told', () => {
    const farm = farmWith({ plantings: [plantingWith()] })
    const fresh = newDivideForm(farm, plantWith(), '2026-08-01' as Day)
    expect([seasonTold(farm, fresh), seasonTold(farm, { ...fresh, season: 2026 as Season })]).toEqual([2027, 2026])
  })
})

it.each<[DivideForm['becomes'], Day]>([
  ['kept', '2025-09-18' as Day], ['taken_out', '2025-09-18' as Day], ['moved', '2026-04-20' as Day],
])('a plant that was moved, and is %s now, can be divided from %s on', (becomes, from) => {
  const farm = farmWith({ plantings: [plantingWith()] })
  expect(divisibleFrom(farm, plantWith({ places: [{ ...at(1, 5), since: '2026-04-20' as Day, move: 'm' }] }), becomes)).toBe(from)
})

const book = { writer: () => 'w', person: signal('maren'), kept: () => ({ writer: 'w', blocks: [{ block: 7, next: 0 }] }) } as unknown as Notebook

it('a division does what was decided, in one operation that its undo takes back', () => {
  const k = plantWith({ id: 'k' as PlantID, line: 3, number: 1 })
  const ground = [...stockFacts(stockWith()), ...plantingFacts(plantingWith()), ...plantFacts(k)]
  const decided = intentFacts(2026 as Season, k.id, { do: 'divide', into: 5, made: '2026-04-01' as Day })
  const farm = farmSaid(ground, decided)
  expect(newDivideForm(farm, k, form.day).children).toBe(5)
  const { deed } = planDivision(book, farm, k.id, { ...form, becomes: 'taken_out' })
  const after = farmSaid(ground, decided, deed.facts)
  expect([...after.ahead.intents.values()].map(({ done, person }) => [done, person])).toEqual([['2026-05-04', 'maren']])
  const back = farmSaid(ground, decided, deed.facts, undoing(after, deed))
  expect([...back.ahead.intents.values()].map(({ do: what, done }) => [what, done])).toEqual([['divide', '']])
})

it('a division is not stored where another plant stands by now in the place that the plant itself is moved to', () => {
  const k = plantWith({ id: 'k' as PlantID, line: 3, number: 1 })
  const dividing = (number: number) => {
    const other = plantWith({ id: 'other' as PlantID, line: 1, number })
    const farm = farmWith({ stocks: [stockWith()], plantings: [plantingWith()], plants: [k, other] })
    return planDivision(book, farm, k.id, { ...form, becomes: 'moved', goes: { bed: b, places: [at(1, 3)], somewhere: false } })
  }
  expect(dividing(9).children).toHaveLength(2)
  expect(() => dividing(3)).toThrow('another plant stands in that place')
})

it.each<[string, Place, PlantID | '', boolean]>([
  ['is taken by who stands there', at(1, 1), '', true],
  ['is free for the plant itself', at(1, 1), 'k' as PlantID, false],
  ['is free where nobody stands', at(1, 2), '', false],
  ['is taken by one that another move of it took elsewhere', at(2, 2), '', true],
  ['is never taken where none is told', at(0, 0), '', false],
])('a place %s', (_, place, but, taken) => {
  const moved = [at(2, 1), at(2, 2)].map((to): PlaceSince => ({ ...to, since: '2026-04-20' as Day, move: `to ${to.number}` }))
  const farm: Farm = farmWith({ plantings: [plantingWith()], plants: [
    plantWith({ id: 'k' as PlantID, line: 1, number: 1 }), plantWith({ id: 'none' as PlantID }), plantWith({ id: 'm' as PlantID, bed: b, line: 2, number: 1, places: moved }),
  ] })
  expect(isTaken(farm, place, but)).toBe(taken)
})

describe('the stock of what came of another', () => {
  const kiln = stockWith({ id: 'kiln' as StockID, name: 'Kiln mix', species: 'Achillea millefolium' })
  const divided = stockWith({ id: 'd' as StockID, name: 'Kiln mix, divided', origin: 'division', from: kiln.id })

  it('is a new one that is named after it, where the farm has none', () => {
    const { stock, isNew } = stockOfNew(farmWith({ stocks: [kiln] }), kiln, 'self_sown')
    expect([isNew, stock.name, stock.species, stock.origin, stock.from, stock.protected]).toEqual([true, 'Kiln mix, self-sown', 'Achillea millefolium', 'self_sown', 'kiln', false])
  })

  it('is the farm’s own, where it has one', () => {
    expect(stockOfNew(farmWith({ stocks: [kiln, divided] }), kiln, 'division')).toEqual({ stock: divided, isNew: false })
  })

  it('is the same for divisions of divisions, and another for seedlings of divisions', () => {
    const farm = farmWith({ stocks: [kiln, divided] })
    expect(stockOfNew(farm, divided, 'division').stock).toBe(divided)
    expect(stockOfNew(farm, divided, 'self_sown').stock.from).toBe('d')
  })
})
