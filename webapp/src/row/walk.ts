// The order in which a bed's counted plants are walked, and where the walk stands.

import type { Bed, BedID, Day, Farm, Flush, Plant, PlantID, Season, Visit } from '../crop/nouns'
import { inWalkOrder } from '../crop/walk_order'

/** The plants to be called out: standing, and counted in this season with the day in their window. */
export function countedIn(farm: Farm, bed: BedID, season: Season, day: Day): Plant[] {
  const found: Plant[] = []
  for (const plant of farm.plants.values()) {
    const window = plant.counted.get(season)
    if (!window || day < window.from || day > window.to) continue
    if (plant.removed !== '' && plant.removed <= day) continue
    if (farm.plantings.get(plant.planting)?.bed === bed) found.push(plant)
  }
  return inWalkOrder(found)
}

/** What a day's visits say of a plant: nothing recorded, stems cut, or told to bear none. */
export type DayState = { readonly seen: boolean; readonly stems: number }

export function dayStateOf(farm: Farm, plant: PlantID, day: Day): DayState {
  let seen = false
  let stems = 0
  for (const id of farm.visitsOf.get(plant) ?? []) {
    const visit = farm.visits.get(id)
    if (!visit || visit.date !== day) continue
    if (visit.purpose === 'nothing') seen = true
    if (visit.purpose === 'cut') stems += stemsIn(visit)
  }
  return { seen: seen || stems > 0, stems }
}

export function stemsIn(visit: Visit): number {
  return visit.counts.reduce((sum, count) => sum + count.stems, 0)
}

/** The next plant behind this one that nobody has seen today; undefined at the end of the walk. */
export function nextUnseen(order: readonly Plant[], at: PlantID | '', seen: (plant: PlantID) => boolean): Plant | undefined {
  const from = order.findIndex((plant) => plant.id === at) + 1
  return order.slice(from).find((plant) => !seen(plant.id))
}

/** The plant one step before or behind, seen or not. */
export function neighbour(order: readonly Plant[], at: PlantID, step: 1 | -1): Plant | undefined {
  const from = order.findIndex((plant) => plant.id === at)
  return from < 0 ? order[0] : order[from + step]
}

/** A bed's flush on a day: fall from the day it was cut back. */
export function flushOf(bed: Bed | undefined, season: Season, day: Day): Flush {
  const cutBack = bed?.cutBack.get(season)
  return cutBack !== undefined && day >= cutBack ? 'fall' : 'spring'
}
