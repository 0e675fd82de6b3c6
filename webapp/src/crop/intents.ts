// What was decided for plants as the row sees it: what is to be done to plants that stand, what was done there and is not
// entered yet, and the facts that mark a decision done or say why it could not be.

import { intentFacts } from './ahead_facts'
import { intentIDOf } from './ahead_ids'
import type { Intent, IntentDo } from './ahead_nouns'
import type { Deed } from './deed'
import type { BedID, Day, Farm, PersonID, Plant, PlantID, Season } from './nouns'
import { bedOf } from './places'
import { inWalkOrder } from './walk_order'

/** A plant that stands, and what is to become of it other than to be kept. */
export interface ToDo {
  readonly intent: Intent
  readonly plant: Plant
  /** '' where its planting has not come here yet. */
  readonly bed: BedID | ''
  /** to_enter: done in the row by somebody who may not enter it; an owner still has to. */
  readonly is: 'open' | 'to_enter'
}

/** Why something decided could not be done, as kept in the decision. */
export const hindrances = ['not_found', 'dead', 'too_small', 'sick', 'no_room', 'other'] as const
export type Hindrance = (typeof hindrances)[number]
const hindered = 'not.'

/** Divisions are made after a season and before the flush of the next: decisions of both are looked at. */
function seasonsOfWork(season: Season): readonly Season[] {
  return [season, season - 1 as Season]
}

/** What was decided last for a plant, of this season or the one before. */
export function decisionOf(farm: Farm, plant: PlantID, season: Season): Intent | undefined {
  for (const one of seasonsOfWork(season)) {
    const intent = farm.ahead.intents.get(intentIDOf(one, plant))
    if (intent) return intent
  }
  return undefined
}

/** What is to be done to plants that stand, bed by bed by name, each in walk order. */
export function toDoIn(farm: Farm, season: Season): ToDo[] {
  if (farm.ahead.intents.size === 0) return [] // most of the year: no plant is looked at
  const byBed = new Map<BedID | '', Map<PlantID, ToDo>>()
  const parents = lastParents(farm)
  for (const { plant: id } of farm.ahead.intents.values()) {
    const plant = farm.plants.get(id)
    const intent = plant?.removed === '' ? decisionOf(farm, id, season) : undefined
    if (!plant || !intent || intent.do === 'keep' || wasEntered(intent, parents)) continue
    const bed = bedOf(farm, plant) ?? ''
    const beside = byBed.get(bed) ?? new Map<PlantID, ToDo>()
    byBed.set(bed, beside.set(id, { intent, plant, bed, is: intent.done === '' ? 'open' : 'to_enter' }))
  }
  const named = [...byBed].map(([bed, all]) => ({ name: bed === '' ? '' : farm.beds.get(bed)?.name ?? '', all }))
  named.sort((a, b) => Number(a.name === '') - Number(b.name === '') || a.name.localeCompare(b.name, undefined, { numeric: true }))
  return named.flatMap(({ all }) => inWalkOrder([...all.values()].map(({ plant }) => plant)).flatMap(({ id }) => all.get(id) ?? []))
}

/** How many of this season's and the last one's decisions other than to keep are done. */
export function doneIn(farm: Farm, season: Season): Intent[] {
  return [...farm.ahead.intents.values()].filter((intent) => intent.do !== 'keep' && intent.done !== '' && decisionOf(farm, intent.plant, season) === intent)
}

/** A plant that was divided and stays has divisions since it was decided. */
function wasEntered(intent: Intent, parents: ReadonlyMap<PlantID, Day>): boolean {
  return intent.do === 'divide' && intent.done !== '' && (parents.get(intent.plant) ?? '') >= intent.made
}

/** The last day on which divisions of a plant were set, of plants that have any. */
function lastParents(farm: Farm): ReadonlyMap<PlantID, Day> {
  const last = new Map<PlantID, Day>()
  for (const { parents, planting } of farm.plants.values()) {
    const planted = parents.length > 0 ? farm.plantings.get(planting)?.planted : undefined
    if (planted === undefined) continue
    for (const parent of parents) if (planted > (last.get(parent) ?? '')) last.set(parent, planted)
  }
  return last
}

/** Marks what was decided for a plant as done, where it was one of these and still is to be entered; else nothing. */
export function nowDone(farm: Farm, plant: PlantID, season: Season, does: readonly IntentDo[], day: Day, person: PersonID | ''): Deed {
  const intent = decisionOf(farm, plant, season)
  return intent && does.includes(intent.do) ? markDone(intent, day, intent.done === '' ? person : intent.person) : { facts: [], undo: [] }
}

export function markDone({ season, plant, done, person: before }: Intent, day: Day, person: PersonID | ''): Deed {
  return { facts: intentFacts(season, plant, { done: day, person }), undo: intentFacts(season, plant, { done, person: before }) }
}

/** It stays as it is, for a reason: nothing is expected of it then, so that nothing is judged by it. */
export function couldNotBe({ season, plant, do: was, into, why, stems }: Intent, hindrance: Hindrance): Deed {
  return {
    facts: intentFacts(season, plant, { do: 'keep', into: 0, why: [`${hindered}${hindrance}`], stems: { mean: 0, lo: 0, hi: 0 } }),
    undo: intentFacts(season, plant, { do: was, into, why, stems }),
  }
}

/** Why what was decided for a plant could not be done; undefined where nobody said so. */
export function hindranceOf({ why }: Pick<Intent, 'why'>): Hindrance | undefined {
  return hindrances.find((one) => why.includes(`${hindered}${one}`))
}
