// What lies ahead, written as facts. Mirrors internal/farm/ahead_facts.go. Of what is told in part, a field that is not
// given stays as it is. What only owners may read is of scope money.

import type { Fact } from '../log/change'
import { fieldWithdrawn } from '../log/read'
import { asUsual, costFields } from './ahead_fields'
import { type Ask, type AskID, type DayWeather, type DivisionCosts, type Intent, type IntentDo, type Plan, type Task, type TaskID, usualCosts, type Warmth } from './ahead_nouns'
import { intentIDOf } from './ahead_ids'
import { Facts, withdrawnFact } from './facts'
import type { Day, Farm, PlantID, Season } from './nouns'

/** How the farm reckons with warmth, and shows it. */
export function warmthFacts(farm: Pick<Farm, 'id'>, w: Partial<Warmth>): Fact[] {
  const facts = new Facts('farm', farm.id).given('degrees', w.degrees).given('warm_lower', inTenths(w.lower))
  return facts.given('warm_upper', inTenths(w.upper)).given('warm_method', w.method).list
}

/** What a broken promise costs, percent of the price of its stems; 0 is the usual. */
export function breakCostFacts(farm: Pick<Farm, 'id'>, percent: number): Fact[] {
  return new Facts('farm', farm.id, 'money').set('break_cost', percent).list
}

/** What divisions cost; what is as usual goes by that, also once that is another. */
export function divisionCostFacts(farm: Pick<Farm, 'id'>, costs: Partial<DivisionCosts>): Fact[] {
  const facts = new Facts('farm', farm.id, 'money')
  for (const [cost, field] of costFields) facts.given(field, costs[cost] === usualCosts[cost] ? asUsual : costs[cost])
  return facts.list
}

export function askFacts(id: AskID, a: Partial<Omit<Ask, 'id'>>): Fact[] {
  const shed = new Facts('ask', id, 'shed').given('buyer', a.buyer).given('note', a.note).given('stems', a.stems)
  shed.given('colours', a.colours && [...a.colours]).given('grade', a.grade).given('least', a.length)
  shed.given('since', a.from).given('due', a.due).given('taken', a.taken).given('person', a.person)
  shed.given('answer', a.answer).given('offered', a.offered).given('chance', a.chance).given('order', a.order)
  return [...shed.list, ...new Facts('ask', id, 'money').given('cents', a.price).list]
}

/** Takes an ask away, or brings it back. */
export function askWithdrawn(id: AskID, on: boolean): Fact {
  return withdrawnFact('ask', id, on, 'shed')
}

/** How cold and how warm a day was; undefined takes it back. */
export function weatherFacts(day: Day, w: DayWeather | undefined): Fact[] {
  const facts = new Facts('weather', day)
  if (!w) return facts.set(fieldWithdrawn, 1).list
  return facts.given('min', inTenths(w.min)).given('max', inTenths(w.max)).set(fieldWithdrawn, 0).list
}

/** That a task of any kind is done, put off or dropped; '' and false take it back. */
export function taskFacts(id: TaskID, t: Partial<Pick<Task, 'done' | 'person' | 'due' | 'dropped'>>): Fact[] {
  const facts = new Facts('task', id).given('due', t.due).given('done', t.done).given('person', t.person)
  return facts.given('dropped', t.dropped === undefined ? undefined : t.dropped ? 1 : 0).list
}

/** What a task in somebody's own words is. */
export function ownTaskFacts(id: TaskID, t: Partial<Pick<Task, 'bed' | 'due' | 'what'>>): Fact[] {
  return new Facts('task', id).set('kind', 'own').given('bed', t.bed).given('due', t.due).given('what', t.what).list
}

/** Takes a task in somebody's own words away, or brings it back. */
export function ownTaskWithdrawn(id: TaskID, on: boolean): Fact {
  return withdrawnFact('task', id, on)
}

/** What is decided for a plant in a season; '' as `do` takes it back. */
export function intentFacts(season: Season, plant: PlantID, i: Partial<Omit<Intent, 'id' | 'season' | 'plant' | 'do'>> & { readonly do?: IntentDo | '' }): Fact[] {
  const id = intentIDOf(season, plant)
  const field = new Facts('intent', id).given('do', i.do).given('into', i.into).given('why', i.why && [...i.why])
  field.given('made', i.made).given('done', i.done).given('person', i.person)
  field.given('mean', whole(i.stems?.mean)).given('lo', whole(i.stems?.lo)).given('hi', whole(i.stems?.hi))
  const money = new Facts('intent', id, 'money').given('cents', whole(i.value?.mean)).given('cents_lo', whole(i.value?.lo))
  return [...field.list, ...money.given('cents_hi', whole(i.value?.hi)).list]
}

export function planFacts(season: Season, p: Partial<Omit<Plan, 'season'>>): Fact[] {
  const shed = new Facts('plan', String(season), 'shed').given('goal', p.goal).given('seasons', p.seasons).given('places', p.places)
  shed.given('minutes', p.minutes).given('chance', p.chance).given('made', p.made)
  return [...shed.list, ...new Facts('plan', String(season), 'money').given('net', whole(p.net)).list]
}

function inTenths(degrees: number | undefined): number | undefined {
  return degrees === undefined ? undefined : whole(degrees * 10)
}

/** What was expected comes in parts of stems and cents; a change holds whole numbers, and no -0. */
function whole(n: number | undefined): number | undefined {
  return n === undefined ? undefined : Math.round(n) + 0
}
