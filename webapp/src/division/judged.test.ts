import { expect, it } from 'vitest'
import { intentFacts, planFacts } from '../crop/ahead_facts'
import type { IntentDo } from '../crop/ahead_nouns'
import { couldNotBe, decisionOf } from '../crop/intents'
import { countFact, plantCell, plantFacts, removedFacts, visitFacts } from '../crop/facts'
import { untoldLength, type Day, type PlantID, type Season, type VisitID, type Window } from '../crop/nouns'
import { plantWith, visitWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { judgedPlans, sumOf } from './judged'

const planned = 2025 as Season
const whole: Window = { from: '2026-01-01' as Day, to: '2026-12-31' as Day }
const after = '2027-01-05' as Day
const plant = (id: string, counted: boolean, parents: readonly string[] = []): Fact[] => plantFacts(plantWith({
  id: id as PlantID, code: id, parents: parents as readonly PlantID[], counted: new Map(counted ? [[2026 as Season, whole]] : []),
}))
const gave = (id: string, stems: number, date = '2026-05-20', toOrder = false): Fact[] => {
  const visit = `${id} ${date}` as VisitID
  return [...visitFacts(visitWith({ id: visit, plant: id as PlantID, date: date as Day, toOrder })), countFact('field', visit, plantCell('first', untoldLength), stems)]
}
const expects = (id: string, what: IntentDo, done = ''): Fact[] => intentFacts(planned, id as PlantID, {
  do: what, into: 2, why: [], made: '2025-09-01' as Day, done: done as Day, stems: { mean: 20, lo: 12, hi: 30 },
})
const plan = planFacts(planned, { goal: 150, seasons: 2, places: 1, minutes: 60, chance: 700, made: '2025-09-01' as Day })
const told = (today: Day, ...facts: readonly (readonly Fact[])[]) => judgedPlans(farmSaid(plan, ...facts), today)
const each = (...facts: readonly (readonly Fact[])[]) => told(after, ...facts)[0]!.counted.map(({ plant: { id }, gave: stems, is }) => `${id} ${stems} ${is}`)

it.each<[string, readonly (readonly Fact[])[], readonly string[]]>([
  ['a counted plant that was kept', [plant('a', true), expects('a', 'keep'), gave('a', 7), gave('a', 8, '2026-05-25')], ['a 15 within']],
  ['one that gave less', [plant('a', true), expects('a', 'keep'), gave('a', 7)], ['a 7 below']],
  ['one that gave more', [plant('a', true), expects('a', 'keep'), gave('a', 31)], ['a 31 above']],
  ['one that gave none', [plant('a', true), expects('a', 'keep')], ['a 0 below']],
  ['another season’s stems left out', [plant('a', true), expects('a', 'keep'), gave('a', 15), gave('a', 99, '2025-06-01')], ['a 15 within']],
  ['none that is not counted', [plant('a', false), expects('a', 'keep'), gave('a', 15)], []],
  ['none that was cut to order', [plant('a', true), expects('a', 'keep'), gave('a', 15, '2026-05-20', true)], []],
  ['divisions with their parent that is gone', [
    plant('a', true), expects('a', 'divide', '2025-09-20'), removedFacts('a' as PlantID, '2025-09-20' as Day), plant('b', true, ['a']), plant('c', true, ['a']), gave('b', 9), gave('c', 12),
  ], ['a 21 within']],
  ['no divisions of which one is not counted', [
    plant('a', true), expects('a', 'divide', '2025-09-20'), removedFacts('a' as PlantID, '2025-09-20' as Day), plant('b', true, ['a']), plant('c', false, ['a']), gave('b', 9),
  ], []],
  ['none that was to be divided and was not', [plant('a', true), expects('a', 'divide'), gave('a', 15)], []],
  ['none that was lifted or replaced', [plant('a', true), expects('a', 'replace', '2025-09-20'), gave('a', 15)], []],
])('is judged by: %s', (_, facts, want) => {
  expect(each(...facts)).toEqual(want)
})

it('nothing is judged of what could not be done', () => {
  const facts = [plant('a', true), expects('a', 'divide'), gave('a', 15)]
  const farm = farmSaid(plan, ...facts)
  const deed = couldNotBe(decisionOf(farm, 'a' as PlantID, planned)!, 'no_room')
  expect(each(...facts, deed.facts)).toEqual([])
})

it.each<[string, Day, readonly boolean[]]>([
  ['not before its next season has begun', '2025-12-31' as Day, []],
  ['as it runs', '2026-06-01' as Day, [true]],
  ['when it is over', after, [false]],
])('a plan is judged %s', (_, today, runs) => {
  expect(told(today, plant('a', true), expects('a', 'keep')).map((one) => one.runs)).toEqual(runs)
})

it('what was expected and what came is told in all', () => {
  const [one] = told(after, plant('a', true), expects('a', 'keep'), gave('a', 15), plant('b', true), expects('b', 'keep'), gave('b', 40), plant('c', false), expects('c', 'keep'))
  expect([one!.planned, sumOf(one!.counted)]).toEqual([3, { expected: 40, gave: 55, within: 1 }])
})
