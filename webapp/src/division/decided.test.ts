import { describe, expect, it } from 'vitest'
import type { BedID, Day, PlantID, PlantingID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { againstAgeRule, byBed, countsOf, decidedOf, placesOf } from './decided'
import { isDivisionAnswer } from './division_answer'
import type { ByHand } from './division_plan'
import { planSentence } from './division_sentence'
import { actionWith, answerWith } from './testing/planned'

const ids = (names: string) => names.split(' ')
const farm = farmWith({
  beds: [bedWith({ id: 'n' as BedID, name: 'Bed 10' }), bedWith({ id: 'm' as BedID, name: 'Bed 9' })],
  plantings: [plantingWith({ id: 'n' as PlantingID, bed: 'n' as BedID }), plantingWith({ id: 'm' as PlantingID, bed: 'm' as BedID })],
  plants: [
    ...ids('a b c').map((id, i) => plantWith({ id: id as PlantID, code: id, planting: 'n' as PlantingID, line: 1, number: 3 - i })),
    plantWith({ id: 'd' as PlantID, code: 'd', planting: 'm' as PlantingID }), plantWith({ id: 'gone' as PlantID, removed: '2026-08-01' as Day }),
  ],
})
const answer = answerWith([
  actionWith('a', { do: 'divide', into: 3 }), actionWith('b', { do: 'divide', into: 2, by_age: { do: 'keep', gives_up_cents: 300 } }),
  actionWith('c', { do: 'lift', by_age: { do: 'replace', gives_up_cents: 900 } }), actionWith('d'), actionWith('gone', { do: 'lift' }), actionWith('unknown'),
])
const hand = (all: Readonly<Record<string, ByHand>>) => all as Readonly<Record<PlantID, ByHand>>

describe('a plan', () => {
  it('is of plants that stand', () => {
    expect(decidedOf(farm, answer, {}).map(({ plant, do: what, into }) => `${plant.id} ${what} ${into}`)).toEqual(['a divide 3', 'b divide 2', 'c lift 0', 'd keep 0'])
  })

  it('has what the grower decided otherwise', () => {
    const decided = decidedOf(farm, answer, hand({ a: { do: 'keep', into: 0 }, d: { do: 'divide', into: 4 } }))
    expect(decided.filter((one) => one.byHand).map(({ plant, do: what, into }) => `${plant.id} ${what} ${into}`)).toEqual(['a keep 0', 'd divide 4'])
    expect(countsOf(decided)).toEqual({ keep: 1, divide: 2, lift: 1, replace: 0 })
  })

  it('takes a place for each division but one, and frees that of what is lifted', () => {
    expect(placesOf(decidedOf(farm, answer, {}))).toBe(2 + 1 - 1)
  })

  it('is listed bed by bed by name, folded by what becomes of plants, in walk order', () => {
    expect(byBed(farm, decidedOf(farm, answer, {})).map(({ bed, groups }) => [bed, ...groups.map((group) => `${group.do}: ${group.plants.map(({ plant }) => plant.id).join(' ')}`)])).toEqual([
      ['m', 'keep: d'], ['n', 'divide: b a', 'lift: c'],
    ])
  })

  it('is told against replanting by age, the dearest difference first', () => {
    expect(againstAgeRule(answer.actions)).toEqual([{ plan: 'lift', rule: 'replace', plants: 1, cents: 900 }, { plan: 'divide', rule: 'keep', plants: 1, cents: 300 }])
  })
})

it.each<[string, number, number, number, string]>([
  ['half as many again', 0.72, 1.5, 2, 'Divide **14**, replace 6, lift 3 and keep 97: **72 in 100** to reach half as many again in 2 seasons.'],
  ['a goal of her own, in one season', 0.996, 1.35, 1, 'Divide **14**, replace 6, lift 3 and keep 97: **over 99 in 100** to reach 1.35 times as many in 1 season.'],
  ['what hardly ever comes', 0.004, 2, 3, 'Divide **14**, replace 6, lift 3 and keep 97: **under 1 in 100** to reach twice as many in 3 seasons.'],
])('the sentence tells of %s', (_, chance, goal, seasons, want) => {
  // Some kinds of English have a comma before the last of a list.
  expect(planSentence({ divide: 14, replace: 6, lift: 3, keep: 97 }, answerWith([], { goal: { ...answer.goal, chance } }), { goal, seasons }).replace(', and', ' and')).toBe(want)
})

it('the sentence names nothing that is not done', () => {
  expect(planSentence({ divide: 0, replace: 0, lift: 0, keep: 4 }, answer, { goal: 1, seasons: 1 })).toMatch(/^Keep 4: /)
})

it.each<[string, unknown, boolean]>([
  ['a plan', answer, true],
  ['a plan through JSON', JSON.parse(JSON.stringify(answer)), true],
  ['nothing', undefined, false],
  ['one without a chance', { ...answer, goal: { draws: 1 } }, false],
  ['one that does what there is not', { ...answer, actions: [{ ...actionWith('a'), do: 'burn' }] }, false],
])('%s is told from what is no plan', (_, value, is) => {
  expect(isDivisionAnswer(value)).toBe(is)
})
