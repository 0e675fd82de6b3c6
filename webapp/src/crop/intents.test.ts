import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { intentFacts } from './ahead_facts'
import type { IntentDo } from './ahead_nouns'
import { bedFacts, plantFacts, plantingFacts, removedFacts, stockFacts } from './facts'
import { couldNotBe, decisionOf, doneIn, hindranceOf, nowDone, toDoIn } from './intents'
import type { BedID, Day, Farm, PersonID, PlantID, PlantingID, Season } from './nouns'
import { bedWith, plantingWith, plantWith, stockWith } from './testing/nouns'
import { farmSaid } from './testing/said'

const season = 2026 as Season
const made = '2026-09-01' as Day
const day = '2026-09-20' as Day
const tilda = 'tilda' as PersonID
const plant = (id: string, bed: string, number: number, parents: readonly string[] = [], planting = bed) => plantFacts(plantWith({
  id: id as PlantID, code: id.toUpperCase(), planting: planting as PlantingID, line: 1, number, parents: parents as readonly PlantID[],
}))
const planting = (id: string, bed: string, planted = '2025-09-01') => plantingFacts(plantingWith({ id: id as PlantingID, bed: bed as BedID, planted: planted as Day }))
const ground = [
  ...stockFacts(stockWith()), ...[['z', 'Bed 2'], ['y', 'Bed 10']].flatMap(([id, name]) => bedFacts(bedWith({ id: id as BedID, name: name! }))),
  ...planting('z', 'z'), ...planting('y', 'y'), ...plant('a', 'y', 1), ...plant('b', 'z', 2), ...plant('c', 'z', 1), ...plant('d', 'z', 3),
]
const decide = (id: string, what: IntentDo, of = season) => intentFacts(of, id as PlantID, { do: what, into: 3, why: ['open_centre'], made, stems: { mean: 9, lo: 4, hi: 15 } })
const listOf = (farm: Farm) => toDoIn(farm, season).map(({ plant: { id }, is }) => `${id} ${is}`)
const of = (farm: Farm, id: string) => decisionOf(farm, id as PlantID, season)!

describe('what is to be done', () => {
  const b = 'b' as PlantID
  it.each<[string, readonly (readonly Fact[])[], readonly string[]]>([
    ['is told bed by bed by name, in walk order', [decide('a', 'lift'), decide('b', 'divide'), decide('c', 'replace')], ['c open', 'b open', 'a open']],
    ['is not what is kept', [decide('b', 'keep')], []],
    ['is not what stands no more', [decide('b', 'lift'), removedFacts(b, day)], []],
    ['is what was decided after the season before', [decide('b', 'lift', 2025 as Season)], ['b open']],
    ['is what was decided last', [decide('b', 'lift', 2025 as Season), decide('b', 'keep')], []],
    ['is not what was decided long ago', [decide('b', 'lift', 2024 as Season)], []],
    ['is to be entered where it was done and stands', [decide('b', 'divide'), intentFacts(season, b, { done: day, person: tilda })], ['b to_enter']],
    ['is nothing where it was divided since and stays', [
      decide('b', 'divide'), intentFacts(season, b, { done: day }), [...planting('n', 'z', day), ...plant('b1', 'z', 7, ['b'], 'n')],
    ], []],
    ['is to be entered where it was divided only before it was decided', [
      decide('b', 'divide'), intentFacts(season, b, { done: day }), plant('b1', 'z', 7, ['b']),
    ], ['b to_enter']],
  ])('%s', (_, operations, want) => {
    expect(listOf(farmSaid(ground, ...operations))).toEqual(want)
  })
})

describe('a deed', () => {
  const farm = farmSaid(ground, decide('b', 'divide'))
  const done = (given: Farm, does: readonly IntentDo[]) => nowDone(given, 'b' as PlantID, season, does, day, tilda)

  it('does what was decided, and its undo takes that back', () => {
    const deed = done(farm, ['divide'])
    const after = farmSaid(ground, decide('b', 'divide'), deed.facts)
    expect(of(after, 'b')).toMatchObject({ do: 'divide', done: day, person: tilda })
    expect(doneIn(after, season)).toHaveLength(1)
    expect(of(farmSaid(ground, decide('b', 'divide'), deed.facts, deed.undo), 'b')).toMatchObject({ done: '', person: '' })
  })

  it('says nothing of a decision of another kind, or where there is none', () => {
    expect(done(farm, ['lift', 'replace']).facts).toEqual([])
    expect(done(farmSaid(ground), ['divide']).facts).toEqual([])
  })

  it('leaves who did it where an owner enters it', () => {
    const told = intentFacts(season, 'b' as PlantID, { done: '2026-09-10' as Day, person: tilda })
    const deed = nowDone(farmSaid(ground, decide('b', 'divide'), told), 'b' as PlantID, season, ['divide'], day, 'maren' as PersonID)
    expect(of(farmSaid(ground, decide('b', 'divide'), told, deed.facts), 'b').person).toBe(tilda)
  })
})

it('what cannot be done stays, with why, and nothing is expected of it; its undo brings the decision back', () => {
  const before = farmSaid(ground, decide('b', 'divide'))
  const deed = couldNotBe(of(before, 'b'), 'dead')
  const after = of(farmSaid(ground, decide('b', 'divide'), deed.facts), 'b')
  expect([after.do, after.stems.mean, hindranceOf(after)]).toEqual(['keep', 0, 'dead'])
  expect(of(farmSaid(ground, decide('b', 'divide'), deed.facts, deed.undo), 'b')).toEqual(of(before, 'b'))
})
