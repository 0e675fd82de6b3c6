// How right a plan was: what was expected of its plants in the next season, divisions included, and what they gave, of
// those that were counted.

import { stemsIn } from '../crop/bed_day'
import type { Intent, Plan } from '../crop/ahead_nouns'
import type { Day, Farm, Plant, PlantID, Season } from '../crop/nouns'
import { seasonOf, span } from '../crop/season'

export interface Judged {
  readonly plan: Plan
  /** In which it is judged. */
  readonly season: Season
  /** The season still runs: these are the stems so far. */
  readonly runs: boolean
  /** Plants of the plan of which something was expected. */
  readonly planned: number
  readonly counted: readonly JudgedPlant[]
}

export interface JudgedPlant {
  readonly plant: Plant
  readonly expected: Intent['stems']
  /** Its own, and those of its divisions. */
  readonly gave: number
  readonly is: 'below' | 'within' | 'above'
}

/** Plans whose next season has begun, the newest first. */
export function judgedPlans(farm: Farm, today: Day): Judged[] {
  const now = seasonOf(farm.calendar, today)
  const plans = [...farm.ahead.plans.values()].filter(({ season }) => season < now).sort((a, b) => b.season - a.season)
  const children = plans.length > 0 ? childrenOf(farm) : new Map<PlantID, readonly Plant[]>()
  return plans.map((plan) => judged(farm, plan, now, children))
}

function judged(farm: Farm, plan: Plan, now: Season, children: ReadonlyMap<PlantID, readonly Plant[]>): Judged {
  const season = plan.season + 1 as Season
  const intents = [...farm.ahead.intents.values()].filter((intent) => intent.season === plan.season && isJudged(intent))
  const counted = intents.flatMap((intent): JudgedPlant[] => {
    const plant = farm.plants.get(intent.plant)
    const family = plant && [plant, ...(intent.do === 'divide' ? children.get(plant.id) ?? [] : [])]
    const gave = family && gaveIn(farm, family, season)
    if (!plant || gave === undefined) return []
    const { lo, hi } = intent.stems
    return [{ plant, expected: intent.stems, gave, is: gave < lo ? 'below' : gave > hi ? 'above' : 'within' }]
  })
  return { plan, season, runs: season === now, planned: intents.length, counted }
}

/** Of what was decided by hand or could not be done nothing was expected; who was to be lifted gives nothing, and a plug is another plant. */
function isJudged(intent: Intent): boolean {
  const done = intent.do === 'keep' || (intent.do === 'divide' && intent.done !== '')
  return done && intent.stems.hi > 0
}

/** Stems of plants in a season; undefined unless each of those that stood in it was counted, and none cut to order. */
function gaveIn(farm: Farm, family: readonly Plant[], season: Season): number | undefined {
  const { from } = span(farm.calendar, season)
  const stood = family.filter(({ removed }) => removed === '' || removed > from)
  if (stood.length === 0 || !stood.every((plant) => plant.counted.has(season))) return undefined
  let stems = 0
  for (const { id } of stood) {
    for (const visitID of farm.visitsOf.get(id) ?? []) {
      const visit = farm.visits.get(visitID)
      if (visit?.purpose !== 'cut' || seasonOf(farm.calendar, visit.date) !== season) continue
      if (visit.toOrder) return undefined
      stems += stemsIn(visit)
    }
  }
  return stems
}

function childrenOf(farm: Farm): ReadonlyMap<PlantID, readonly Plant[]> {
  const found = new Map<PlantID, Plant[]>()
  for (const plant of farm.plants.values()) {
    for (const parent of plant.parents) {
      const beside = found.get(parent)
      if (beside) beside.push(plant)
      else found.set(parent, [plant])
    }
  }
  return found
}

export function sumOf(counted: readonly JudgedPlant[]): { readonly expected: number; readonly gave: number; readonly within: number } {
  return counted.reduce((sum, { expected, gave, is }) => ({
    expected: sum.expected + expected.mean, gave: sum.gave + gave, within: sum.within + (is === 'within' ? 1 : 0),
  }), { expected: 0, gave: 0, within: 0 })
}
