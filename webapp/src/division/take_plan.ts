// Taking a plan: what becomes of every plant that stands, and what was expected of it, as one operation and its undo.

import { intentFacts, planFacts } from '../crop/ahead_facts'
import type { Intent, Plan } from '../crop/ahead_nouns'
import { intentIDOf } from '../crop/ahead_ids'
import type { Deed } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import type { Day, Farm, PersonID, Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { byHand, wordOfWhy } from '../crop/why'
import type { Fact } from '../log/change'
import type { Decided } from './decided'
import type { DivisionAnswer, Range } from './division_answer'
import type { Question } from './division_plan'

interface Taken {
  readonly answer: DivisionAnswer
  readonly question: Question
  readonly decided: readonly Decided[]
  readonly day: Day
  readonly person: PersonID | ''
}

/**
 * Writes the plan and a decision for each plant. What was done already stays as it was decided, and what another plan of
 * the season decided for plants that are not in this one is taken back.
 */
export function takePlan(farm: Farm, taken: Taken): Deed {
  const { answer: { season }, decided } = taken
  const before = [...farm.ahead.intents.values()].filter((intent) => intent.season === season)
  const done = new Set(before.filter((intent) => intent.done !== '').map(({ plant }) => plant))
  const planned = decided.filter(({ plant }) => !done.has(plant.id))
  const now = new Set(planned.map(({ plant }) => plant.id))
  const dropped = before.filter(({ plant }) => !now.has(plant) && !done.has(plant))
  return {
    facts: [...planTaken(taken), ...planned.flatMap((one) => intentTaken(one, taken)), ...dropped.flatMap(({ plant }) => intentFacts(season, plant, { do: '' }))],
    undo: [
      ...planAsItWas(farm, season),
      ...planned.flatMap(({ plant }) => {
        const was = farm.ahead.intents.get(intentIDOf(season, plant.id))
        return was ? intentAsItWas(was) : intentFacts(season, plant.id, { do: '' })
      }),
      ...dropped.flatMap(intentAsItWas),
    ],
  }
}

function planTaken({ answer, question, day }: Taken): Fact[] {
  return [withdrawnFact('plan', String(answer.season), false, 'shed'), ...planFacts(answer.season, {
    goal: Math.round(question.goal * 100), seasons: question.seasons, places: question.places, minutes: Math.round(question.hours * 60),
    chance: Math.round(answer.goal.chance * 1000), made: day, net: answer.net_cents.mean as Cents,
  })]
}

function intentTaken({ plant, do: what, into, byHand: own, action }: Decided, { answer: { season }, day, person }: Taken): Fact[] {
  const why = own ? [byHand] : action.why
  return intentFacts(season, plant.id, {
    do: what, into, why: why.map(wordOfWhy), made: day, done: '', person,
    // What the shed expected is of what it planned: nobody knows it of another way.
    stems: own ? none : expected(action.stems), value: (own ? none : expected(action.value_cents)) as Intent['value'],
  })
}

const none = { mean: 0, lo: 0, hi: 0 }

function expected({ mean, lo, hi }: Range) {
  return { mean, lo, hi }
}

function intentAsItWas({ season, plant, ...was }: Intent): Fact[] {
  return intentFacts(season, plant, was)
}

function planAsItWas(farm: Farm, season: Season): Fact[] {
  const was: Plan | undefined = farm.ahead.plans.get(season)
  return was ? planFacts(season, was) : [withdrawnFact('plan', String(season), true, 'shed')]
}
