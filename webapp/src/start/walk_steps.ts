// The steps of the first walk, and how each is seen to be done: deeds whenever they are done, pages once it is their turn.

import { bedOfVisit, stemsIn, visitsOn } from '../crop/bed_day'
import type { Role } from '../crop/member'
import type { BedID, Day, Farm, PlantID, Visit } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { countedOn, standingIn } from '../crop/standing'
import { viewOf } from '../row/day'

export type Step = 'count' | 'close' | 'bench' | 'ages' | 'ask' | 'bed'

/** Plants that the first step asks to be counted. */
export const plantsAsked = 3

/**
 * On the made-up farm the way leads to an own bed. An own farm begins with that, and has no ages yet and nothing to promise
 * of: those are shown on the made-up one. Who looks on is led nowhere.
 */
export function stepsFor(role: Role, madeUp: boolean): readonly Step[] {
  if (role === 'viewer') return []
  if (role === 'crew') return madeUp ? ['count', 'close', 'bench', 'ages'] : ['count', 'close', 'bench']
  return madeUp ? ['count', 'close', 'bench', 'ages', 'ask', 'bed'] : ['bed', 'count', 'close', 'bench']
}

/** Where each step is taken: the beginning of the pages' addresses, of which the first is led to. */
export const pageOf: Readonly<Record<Step, readonly string[]>> = {
  count: ['row'], close: ['row'], bench: ['shed'], ages: ['beds', 'ages'], ask: ['ahead', 'ask'], bed: ['beds', 'tray'],
}

export function isAt(step: Step, route: readonly string[]): boolean {
  return pageOf[step].every((part, i) => route[i] === part)
}

/** What was done on the farm by this device on a day, and what there is of what steps make. */
export interface Deeds {
  /** Plants counted, or told to bear nothing. */
  readonly plants: number
  /** Beds in which this device told something and of which no counted plant is left. */
  readonly closed: number
  readonly asks: number
  readonly beds: number
}

export function deedsOn(farm: Farm, day: Day, isFromHere: (visit: Visit) => boolean): Deeds {
  const plants = new Set<PlantID>()
  const beds = new Set<BedID>()
  for (const visit of visitsOn(farm, day)) {
    const tells = visit.purpose === 'nothing' || (visit.purpose === 'cut' && stemsIn(visit) > 0)
    if (visit.plant === '' || !tells || !isFromHere(visit)) continue
    plants.add(visit.plant)
    const bed = bedOfVisit(farm, visit)
    if (bed !== undefined) beds.add(bed)
  }
  const closed = [...beds].filter((bed) => isClosed(farm, bed, day)).length
  return { plants: plants.size, closed, asks: farm.ahead.asks.size, beds: farm.beds.size }
}

function isClosed(farm: Farm, bed: BedID, day: Day): boolean {
  const season = seasonOf(farm.calendar, day)
  const counted = standingIn(farm, bed, day).filter((plant) => countedOn(plant, season, day))
  const { state } = viewOf(farm, day)
  return counted.length > 0 && counted.every(({ id }) => state(id).seen)
}

/** Whether a step is seen to be done; of a page, that it is open while it is its turn. */
export function isDone(step: Step, before: Deeds, now: Deeds, isTurn: boolean, route: readonly string[]): boolean {
  switch (step) {
    case 'count': return now.plants - before.plants >= plantsAsked
    case 'close': return now.closed > before.closed
    case 'ask': return now.asks > before.asks
    case 'bed': return now.beds > before.beds
    case 'bench': return isTurn && isAt(step, route) && route.length === 1
    case 'ages': return isTurn && isAt(step, route)
  }
}
