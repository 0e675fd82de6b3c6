// A walk that gives every plant of a bed one rating a season: which plants it calls out, and what was done
// on it. What is rated is told by a Rating; the stand walk and the colour walk are two.

import type { BedID, Day, Farm, Plant, PlantID, Season, Seen } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { ageIn } from '../crop/season'
import { inWalkOrder } from '../crop/walk_order'
import type { Fact } from '../log/change'

export interface Rating<T extends string> {
  /** Names what this device keeps of such walks. */
  readonly name: 'stand' | 'colour'
  /** Whether a plant of the bed is called out. */
  readonly calls: (plant: Plant, season: Season, day: Day) => boolean
  /** What was found in the season. */
  readonly found: (plant: Plant, season: Season) => Seen<T> | undefined
  readonly say: (before: Plant, season: Season, day: Day, what: T) => Fact[]
  /** What brings the plant back to how it was before `say`. */
  readonly unsay: (before: Plant, season: Season, day: Day, what: T) => Fact[]
}

/** The plants of a bed that a walk calls out, in walk order; none before its planting's first season. */
export function ratedOrder<T extends string>(farm: Farm, rating: Rating<T>, bed: BedID, season: Season, day: Day): Plant[] {
  return inWalkOrder([...farm.plants.values()].filter((plant) => {
    const planting = farm.plantings.get(plant.planting)
    return planting !== undefined && ageIn(planting, season) >= 1 && bedOf(farm, plant) === bed && rating.calls(plant, season, day)
  }))
}

/** Something done on such a walk, with the facts that undo it. */
export interface RatedAction {
  readonly kind: 'rating' | 'flag'
  readonly plant: PlantID
  /** What was found, or the kind of flag. */
  readonly what: string
  readonly day: Day
  /** What it was before this season, where a walk tells a change; else ''. */
  readonly earlier: string
  readonly back: readonly Fact[]
}

/** A day's actions that can still be taken back, the newest last. */
export interface RatedJournal {
  readonly day: Day
  readonly actions: readonly RatedAction[]
}

/** Actions kept: as far back as anybody remembers a finger's slip. */
const longest = 30

export function withAction(journal: RatedJournal | undefined, action: RatedAction): RatedJournal {
  const before = journal?.day === action.day ? journal.actions : []
  return { day: action.day, actions: [...before, action].slice(-longest) }
}

/** The journal without an action; told by what it did, since the one that is kept may be read anew. */
export function withoutAction(journal: RatedJournal | undefined, action: RatedAction): RatedJournal | undefined {
  const at = journal?.actions.findLastIndex((one) => one.kind === action.kind && one.plant === action.plant && one.what === action.what) ?? -1
  return journal && { ...journal, actions: journal.actions.filter((_, i) => i !== at) }
}

/** How many of the plants were found to be what. */
export function tally<T extends string>(plants: readonly Plant[], rating: Rating<T>, season: Season): ReadonlyMap<T, number> {
  const counts = new Map<T, number>()
  for (const plant of plants) {
    const found = rating.found(plant, season)
    if (found) counts.set(found.what, (counts.get(found.what) ?? 0) + 1)
  }
  return counts
}
