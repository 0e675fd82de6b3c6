// Stems cut in a bed on a day, each counted once. A bench total is everything that its bed gave that
// day, so a day that has one takes nothing from the row; a bed cut comes next, and the plants' own
// cuts last.

import type { BedID, Day, Farm, Planting, Purpose, Season, Visit } from './nouns'
import { bedOn } from './places'
import { ageIn } from './season'

/** Where stems are counted, the fullest first. */
export const sources: readonly Purpose[] = ['bench', 'bed_cut', 'cut']

export function stemsIn(visit: Visit): number {
  return visit.counts.reduce((sum, count) => sum + count.stems, 0)
}

/** A day's visits, found without a look at any other: a farm's history grows, and nobody waits for it. */
export function visitsOn(farm: Farm, day: Day): Visit[] {
  return [...farm.visitsOn.get(day) ?? []].flatMap((id) => farm.visits.get(id) ?? [])
}

/** Of a bed's visits on one day, those that together hold each stem once. */
export function countedOnce(farm: Farm, season: Season, visits: readonly Visit[]): Visit[] {
  const kept: Visit[] = []
  for (const source of sources) {
    const fuller = [...kept]
    for (const visit of visits) {
      if (visit.purpose === source && !fuller.some((other) => overlap(farm, season, other, visit))) kept.push(visit)
    }
  }
  return kept
}

/** Whether a bed's total and another record of its day may hold the same stems. */
export function overlap(farm: Farm, season: Season, total: Visit, other: Visit): boolean {
  const planting = plantingOf(farm, other)
  if (total.planting !== '' && planting) return total.planting === planting.id
  const age = other.age || (planting ? ageIn(planting, season) : 0)
  return total.age === 0 || age === 0 || total.age === age
}

function plantingOf(farm: Farm, visit: Visit): Planting | undefined {
  const id = visit.plant === '' ? visit.planting : farm.plants.get(visit.plant)?.planting ?? ''
  return id === '' ? undefined : farm.plantings.get(id)
}

/** The bed that a visit was to, as its plant stood that day where it does not say. */
export function bedOfVisit(farm: Farm, visit: Visit): BedID | undefined {
  if (visit.bed !== '') return visit.bed
  const plant = visit.plant === '' ? undefined : farm.plants.get(visit.plant)
  return plant ? bedOn(farm, plant, visit.date) : plantingOf(farm, visit)?.bed
}
