import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Fact, Value } from '../log/change'
import { askFacts, askWithdrawn, divisionCostFacts, intentFacts, ownTaskFacts, ownTaskWithdrawn, planFacts, taskFacts, warmthFacts, weatherFacts } from './ahead_facts'
import { intentIDOf, isOwnTask, parseIntentID, parseTaskID, taskIDOf } from './ahead_ids'
import { type Ahead, type Ask, type AskAnswer, type AskID, comesAgain, type DayWeather, type DivisionCosts, type Intent, type IntentID, type Plan, type TaskID, unmetStems, usualCosts, usualWarmth, type Warmth } from './ahead_nouns'
import type { EntityType } from './facts'
import { LiveFarm } from './live'
import type { BedID, ColourID, Day, Millimetres, PersonID, PlantID, Season } from './nouns'
import type { BuyerID, Cents, OrderID } from './sale_nouns'
import { farmID, farmSaid, stateSaid } from './testing/said'

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/ahead.json'), 'utf8')) as {
  task_ids: { id: TaskID; own?: boolean; bad?: boolean; season: Season; kind: 'cut_back'; of: BedID }[]
  intent_ids: { id: IntentID; bad?: boolean; season: Season; plant: PlantID }[]
  unmet: { name: string; stems: number; answer: AskAnswer | ''; offered: number; want: number }[]
  comes_again: { name: string; stems: number; answer: AskAnswer | ''; offered?: number; due: Day; on: Day; want: boolean }[]
  weather: { name: string; id: Day; fields: Record<string, Value>; want: 'right' | 'wrong' | 'none'; min: number; max: number }[]
  warmth: { name: string; fields: Record<string, Value>; want: Warmth }[]
  costs: { name: string; fields: Record<string, Value>; want: DivisionCosts }[]
}

function told(type: EntityType, id: string, fields: Record<string, Value>, scope: Fact['scope'] = 'field'): Fact[] {
  return Object.entries(fields).map(([field, value]) => ({ scope, op: 'set', type, id, field, value }))
}

const season = 2026 as Season
const person = 'p' as PersonID
const k = 'k' as PlantID
const day = '2026-05-28' as Day
const ask: Ask = {
  id: 'as' as AskID, buyer: 'bu' as BuyerID, note: 'for a wedding', stems: 180, colours: ['c' as ColourID, 'd' as ColourID], grade: 'first', length: 400 as Millimetres,
  from: '2026-06-01' as Day, due: '2026-06-07' as Day, taken: day, person, answer: 'promised', offered: 120, chance: 930, order: 'or' as OrderID, price: 55 as Cents,
}
const cutBack = taskIDOf({ season, kind: 'cut_back', of: 'b' as BedID })
const own = 't' as TaskID
const intent: Intent = {
  id: intentIDOf(season, k), season, plant: k, do: 'divide', into: 3, why: ['open_centre', 'good_colour'], made: day, done: '2026-06-20' as Day, person,
  stems: { mean: 40, lo: 22, hi: 61 }, value: { mean: 900 as Cents, lo: -250 as Cents, hi: 2100 as Cents },
}
const plan: Plan = { season, goal: 150, seasons: 2, places: 120, minutes: 960, chance: 871, made: day, net: -1200 as Cents }
const costs: DivisionCosts = { hour: 1850, divide: 9, lift: 4, set: 2, plug: 0, ground: 25, standing: 90 }
const said = [
  warmthFacts({ id: farmID }, { degrees: 'f', lower: 0, upper: 27.5, method: 'average' }), askFacts(ask.id, ask), weatherFacts(day, { min: -1.5, max: 12.3 }),
  weatherFacts('2026-05-29' as Day, { min: 20, max: 2 }), taskFacts(cutBack, { due: '2026-07-20' as Day, done: day, person, dropped: true }),
  divisionCostFacts({ id: farmID }, costs), ownTaskFacts(own, { bed: 'b' as BedID, due: '2026-07-20' as Day, what: 'mend the fence' }), intentFacts(season, k, intent), planFacts(season, plan),
]

describe('what lies ahead is read as it was written', () => {
  const { ahead } = farmSaid(...said)
  it.each<[string, unknown, unknown]>([
    ['how warmth is reckoned', ahead.warmth, { degrees: 'f', lower: 0, upper: 27.5, method: 'average' }],
    ['what divisions cost', ahead.costs, costs],
    ['asks', ahead.asks, new Map([[ask.id, ask]])],
    ['weather', ahead.weather, new Map([[day, { min: -1.5, max: 12.3 }]])],
    ['weather that cannot be', ahead.weatherWrong, new Map([['2026-05-29', { min: 20, max: 2 }]])],
    ['tasks', ahead.tasks, new Map([
      [cutBack, { id: cutBack, kind: 'cut_back', bed: '', due: '2026-07-20', what: '', done: day, person, dropped: true }],
      [own, { id: own, kind: 'own', bed: 'b', due: '2026-07-20', what: 'mend the fence', done: '', person: '', dropped: false }],
    ])],
    ['decisions', ahead.intents, new Map([[intent.id, intent]])],
    ['plans', ahead.plans, new Map([[season, plan]])],
  ])('%s', (_, got, want) => expect(got).toEqual(want))
})

describe('only owners are told', () => {
  it.each<[string, readonly Fact[], readonly string[]]>([
    ['what an ask would pay', askFacts(ask.id, ask), ['cents']],
    ['what a decision is worth', intentFacts(season, k, intent), ['cents', 'cents_lo', 'cents_hi']],
    ['what divisions cost', divisionCostFacts({ id: farmID }, costs), ['hour_cents', 'divide_minutes', 'lift_minutes', 'set_minutes', 'plug_cents', 'ground_cents', 'standing_worth']],
    ['what a plan brings', planFacts(season, plan), ['net']],
  ])('%s', (_, facts, want) => expect(facts.filter(({ scope }) => scope === 'money').map(({ field }) => field)).toEqual(want))
})

it('a field that is not told stays as it is', () => {
  const { ahead } = farmSaid(...said, askFacts(ask.id, { answer: 'declined' }), intentFacts(season, k, { done: '' }), taskFacts(cutBack, { dropped: false }))
  expect(ahead.asks.get(ask.id)).toEqual({ ...ask, answer: 'declined' })
  expect(ahead.intents.get(intent.id)).toEqual({ ...intent, done: '' })
  expect(ahead.tasks.get(cutBack)).toMatchObject({ done: day, dropped: false })
})

it('parts of stems, cents and tenths are rounded to whole ones, without a zero below zero', () => {
  const values = [...intentFacts(season, k, { stems: { mean: 3.4, lo: -0.2, hi: 9.6 } }), ...weatherFacts(day, { min: -0.04, max: 10.56 })].map(({ value }) => value)
  expect(values).toEqual([3, 0, 10, 0, 106, 0])
})

describe('what is taken away is gone, until it is brought back', () => {
  const gone = [askWithdrawn(ask.id, true), ownTaskWithdrawn(own, true), ...weatherFacts(day, undefined), ...intentFacts(season, k, { do: '' })]
  const held = ({ asks, goneAsks, tasks, goneTasks, weather, intents }: Ahead) => [asks.size, goneAsks.size, tasks.size, goneTasks.size, weather.size, intents.size]
  it('away', () => expect(held(farmSaid(...said, gone).ahead)).toEqual([0, 1, 1, 1, 0, 0]))
  it('and back', () => {
    const back = [askWithdrawn(ask.id, false), ownTaskWithdrawn(own, false), ...weatherFacts(day, { min: 1, max: 2 }), ...intentFacts(season, k, { do: 'keep' })]
    expect(held(farmSaid(...said, gone, back).ahead)).toEqual([1, 0, 2, 0, 1, 1])
  })
})

describe('while changes come', () => {
  const live = () => {
    const farm = new LiveFarm(farmID)
    farm.replace(stateSaid(...said))
    return farm
  }
  const tell = (farm: LiveFarm, facts: readonly Fact[]) => farm.update([...stateSaid(facts)].map((entity) => [entity.key, entity] as const))

  it('it is another object after a change of it, and the same after any other', () => {
    const farm = live()
    const before = farm.farm.peek().ahead
    tell(farm, told('bed', 'b', { name: 'North' }))
    expect(farm.farm.peek().ahead).toBe(before)
    tell(farm, askFacts('as2' as AskID, { stems: 20 }))
    expect(farm.farm.peek().ahead).not.toBe(before)
    expect([...farm.farm.peek().ahead.asks.keys()]).toEqual(['as', 'as2'])
  })
  it('a day that is put right is no longer wrong', () => {
    const farm = live()
    tell(farm, weatherFacts('2026-05-29' as Day, { min: 2, max: 20 }))
    const { weather, weatherWrong } = farm.farm.peek().ahead
    expect([weather.get('2026-05-29' as Day), weatherWrong.size]).toEqual([{ min: 2, max: 20 }, 0])
  })
  it('another farm’s settings leave this one’s', () => {
    const farm = live()
    tell(farm, told('farm', 'other', { warm_lower: 50 }))
    expect(farm.farm.peek().ahead.warmth.lower).toBe(0)
  })
  it('what is read anew holds nothing of before', () => {
    const farm = live()
    farm.replace([])
    const { warmth, costs: cost, ...maps } = farm.farm.peek().ahead
    expect([warmth, cost, ...Object.values(maps).map(({ size }) => size)]).toEqual([usualWarmth, usualCosts, 0, 0, 0, 0, 0, 0, 0, 0])
  })
})

describe('the id of a task', () => {
  it.each(vectors.task_ids)('$id', ({ id, own: isOwn = false, bad, season, kind, of }) => {
    expect(parseTaskID(id)).toEqual(isOwn || bad ? undefined : { season, kind, of })
    expect(isOwnTask(id)).toBe(isOwn)
    if (!isOwn && !bad) expect(taskIDOf({ season, kind, of })).toBe(id)
  })
})

describe('the id of a decision', () => {
  it.each(vectors.intent_ids)('$id', ({ id, bad, season, plant }) => {
    expect(parseIntentID(id)).toEqual(bad ? undefined : { season, plant })
    if (!bad) expect(intentIDOf(season, plant)).toBe(id)
  })
})

describe('unmet stems', () => {
  it.each(vectors.unmet)('$name', ({ want, ...of }) => expect(unmetStems(of)).toBe(want))
})

describe('whether an ask comes again', () => {
  it.each(vectors.comes_again)('$name', ({ want, on, offered = 0, ...of }) => expect(comesAgain({ ...of, offered }, on)).toBe(want))
})

describe('the weather of a day', () => {
  it.each(vectors.weather)('$name', ({ id, fields, want, min, max }) => {
    const { weather, weatherWrong } = farmSaid(told('weather', id, fields)).ahead
    const days = (where: typeof want) => new Map<Day, DayWeather>(where === want ? [[id, { min, max }]] : [])
    expect([weather, weatherWrong]).toEqual([days('right'), days('wrong')])
  })
})

describe('how warmth is reckoned', () => {
  it.each(vectors.warmth)('$name', ({ fields, want }) => expect(farmSaid(told('farm', farmID, fields)).ahead.warmth).toEqual(want))
})

describe('what divisions cost', () => {
  it.each(vectors.costs)('$name', ({ fields, want }) => expect(farmSaid(told('farm', farmID, fields, 'money')).ahead.costs).toEqual(want))
  it('that is as usual is not fixed at what is usual today', () => {
    expect(divisionCostFacts({ id: farmID }, { hour: usualCosts.hour, plug: 300 }).map(({ field, value }) => [field, value])).toEqual([['hour_cents', -1], ['plug_cents', 300]])
    expect(farmSaid(...said, divisionCostFacts({ id: farmID }, { hour: usualCosts.hour })).ahead.costs).toEqual({ ...costs, hour: usualCosts.hour })
  })
})
