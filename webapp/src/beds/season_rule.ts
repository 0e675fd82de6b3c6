// Why a plant is in the season in the ground that it is in: set after a flush its first season is the next
// one's, set before it that year's. What is stored with the planting decides, and is said where it follows neither.

import type { Calendar, Planting, Season } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'

export interface SeasonRule {
  readonly rule: 'after' | 'before' | 'told'
  /** Whether the first season is over, is the one asked of, or is still to come. */
  readonly first: 'past' | 'now' | 'ahead'
  /** 1 in the first season; less before it. */
  readonly age: number
}

export function seasonRule(calendar: Calendar, planting: Planting, season: Season): SeasonRule {
  const age = ageIn(planting, season)
  return { rule: ruleOf(planting.firstSeason - seasonOf(calendar, planting.planted)), first: age > 1 ? 'past' : age === 1 ? 'now' : 'ahead', age }
}

/** By how many seasons after that of its planting a plant began. */
function ruleOf(later: number): SeasonRule['rule'] {
  return later === 0 ? 'before' : later === 1 ? 'after' : 'told'
}
