// What the spring stand walk finds, and that a plant found gone is removed from that day on.

import { removedFacts, standFacts } from '../crop/facts'
import type { Day, Plant, Season, Seen, Stand } from '../crop/nouns'
import type { Rating } from './rated_walk'

export const stands: readonly Stand[] = ['alive', 'weak', 'gone']

export const standRating: Rating<Stand> = {
  name: 'stand',
  calls: (plant, season, day) => plant.removed === '' || plant.removed > day || goneByWalk(plant, season),
  found: (plant, season) => plant.stands.get(season),
  say: (before, season, day, what) => {
    const after = afterIt(before, season, day, what)
    return [...standFacts(before.id, season, after.found), ...(after.removed === before.removed ? [] : removedFacts(before.id, after.removed))]
  },
  unsay: (before, season, day, what) => {
    const after = afterIt(before, season, day, what)
    return [...standFacts(before.id, season, before.stands.get(season)), ...(after.removed === before.removed ? [] : removedFacts(before.id, before.removed))]
  },
}

/** Whether it is gone because a walk of this season found so: it is still called out, so that a slip can be mended. */
export function goneByWalk(plant: Plant, season: Season): boolean {
  const found = plant.stands.get(season)
  return found?.what === 'gone' && found.day === plant.removed
}

/** What stands at a plant once it was rated. One found gone before stays gone since then. */
function afterIt(before: Plant, season: Season, day: Day, what: Stand): { found: Seen<Stand>; removed: Day | '' } {
  const was = goneByWalk(before, season)
  if (what === 'gone') return was && before.removed !== '' ? { found: { day: before.removed, what }, removed: before.removed } : { found: { day, what }, removed: day }
  return { found: { day, what }, removed: was ? '' : before.removed }
}
