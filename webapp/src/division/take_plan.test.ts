import { describe, expect, it } from 'vitest'
import { intentFacts, planFacts } from '../crop/ahead_facts'
import { plantFacts } from '../crop/facts'
import type { Day, Farm, PersonID, PlantID, Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { plantWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { decidedOf } from './decided'
import type { ByHand } from './division_plan'
import { takePlan } from './take_plan'
import { actionWith, answerWith } from './testing/planned'

const season = 2026 as Season
const day = '2026-09-02' as Day
const person = 'maren' as PersonID
const plants = ['a', 'b', 'c'].flatMap((id) => plantFacts(plantWith({ id: id as PlantID, code: id })))
const question = { places: 120, hours: 15.5, goal: 1.5, seasons: 2, chance: 0.8, most: 4, wanted: [], leftOut: [] }
const answer = answerWith([
  actionWith('a', { do: 'divide', into: 3, stems: { mean: 41.6, lo: 22, hi: 60.4 }, why: [{ code: 'pays', cents: 900 as Cents }] }), actionWith('b'),
])
const taking = (farm: Farm, hand: Readonly<Record<string, ByHand>> = {}) =>
  takePlan(farm, { answer, question, decided: decidedOf(farm, answer, hand as Readonly<Record<PlantID, ByHand>>), day, person })
const shown = (farm: Farm) => ({ plans: [...farm.ahead.plans.values()], intents: [...farm.ahead.intents.values()].sort((x, y) => (x.id < y.id ? -1 : 1)) })

describe('a plan that is taken', () => {
  it('is kept with a decision and what is expected for each plant', () => {
    const farm = farmSaid(plants)
    const { plans, intents } = shown(farmSaid(plants, taking(farm).facts))
    expect(plans).toEqual([{ season, goal: 150, seasons: 2, places: 120, minutes: 930, chance: 720, made: day, net: 120_000 }])
    expect(intents).toHaveLength(2)
    expect(intents[0]).toMatchObject({ plant: 'a', do: 'divide', into: 3, why: ['pays'], made: day, done: '', person, stems: { mean: 42, lo: 22, hi: 60 }, value: { mean: 900, lo: -250, hi: 2100 } })
    expect(intents[1]).toMatchObject({ plant: 'b', do: 'keep', into: 0 })
  })

  it('expects nothing where the grower decided otherwise, and says so', () => {
    const { intents } = shown(farmSaid(plants, taking(farmSaid(plants), { a: { do: 'lift', into: 0 } }).facts))
    expect(intents[0]).toMatchObject({ do: 'lift', into: 0, why: ['by_hand'], stems: { mean: 0, lo: 0, hi: 0 }, value: { mean: 0, lo: 0, hi: 0 } })
  })

  const older: readonly (readonly Fact[])[] = [
    planFacts(season, { goal: 200, seasons: 1, places: 3, minutes: 60, chance: 500, made: '2026-08-01' as Day, net: 5 as Cents }),
    intentFacts(season, 'a' as PlantID, { do: 'replace', into: 0, why: ['old'], made: '2026-08-01' as Day, stems: { mean: 5, lo: 1, hi: 9 } }),
    intentFacts(season, 'c' as PlantID, { do: 'lift', made: '2026-08-01' as Day }),
    intentFacts(season, 'b' as PlantID, { do: 'divide', into: 2, made: '2026-08-01' as Day, done: '2026-08-20' as Day, person }),
    intentFacts(2025 as Season, 'a' as PlantID, { do: 'keep', made: '2025-09-01' as Day }),
  ]

  it('takes the place of an older one of the season, but for what is done', () => {
    const { intents } = shown(farmSaid(plants, ...older, taking(farmSaid(plants, ...older)).facts))
    expect(intents.map(({ id, do: what }) => `${id} ${what}`)).toEqual(['2025.a keep', '2026.a divide', '2026.b divide'])
  })

  it.each<[string, readonly (readonly Fact[])[]]>([['nothing', []], ['an older one', older]])('leaves %s where it is undone', (_, before) => {
    const farm = farmSaid(plants, ...before)
    const deed = taking(farm)
    expect(shown(farmSaid(plants, ...before, deed.facts, deed.undo))).toEqual(shown(farm))
  })

  it('can be taken again after that', () => {
    const deed = taking(farmSaid(plants))
    const again = farmSaid(plants, deed.facts, deed.undo)
    expect(shown(farmSaid(plants, deed.facts, deed.undo, taking(again).facts)).plans).toHaveLength(1)
  })
})
