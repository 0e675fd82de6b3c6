// Plants that were entered by mistake: withdrawn, and brought back with what they stand on.

import type { Fact } from '../log/change'
import type { Deed } from './deed'
import { visitScope, withdrawnFact } from './facts'
import { kinOf } from './kin'
import type { Farm, Plant, PlantID, PlantingID } from './nouns'
import { bedOf } from './places'

/** What shows that a plant was there, so that it is no mistake; undefined where nothing was recorded at it. */
export type Recorded = 'visits' | 'photos' | 'divided'

export function recordedAt(farm: Farm, plant: Plant): Recorded | undefined {
  if ((farm.visitsOf.get(plant.id)?.size ?? 0) > 0) return 'visits'
  if (plant.photos.length > 0) return 'photos'
  return kinOf(farm, plant.id).children.length > 0 ? 'divided' : undefined
}

/** Says that a plant was never there. What others record for it without knowing that needs a look. */
export function withdrawPlant(plant: PlantID): Deed {
  return { facts: [withdrawnFact('plant', plant, true)], undo: [withdrawnFact('plant', plant, false)] }
}

/** Brings a withdrawn plant back, and its planting and stock where they went with it. */
export function bringBack(farm: Farm, plant: PlantID): Fact[] {
  const known = farm.plants.get(plant) ?? farm.withdrawn.plants.get(plant)
  return [withdrawnFact('plant', plant, false), ...(known ? bringBackGround(farm, known.planting) : [])]
}

/** Brings a planting back, and its stock, as far as they were withdrawn. */
export function bringBackGround(farm: Farm, planting: PlantingID): Fact[] {
  const gone = farm.withdrawn.plantings.get(planting)
  const stock = (gone ?? farm.plantings.get(planting))?.stock
  return [
    ...(gone ? [withdrawnFact('planting', planting, false)] : []),
    ...(stock !== undefined && farm.withdrawn.stocks.has(stock) ? [withdrawnFact('stock', stock, false)] : []),
  ]
}

/** Brings the bed of a plant back, where it was withdrawn. */
export function bringBackBed(farm: Farm, plant: PlantID): Fact[] {
  const known = farm.plants.get(plant)
  const bed = known && bedOf(farm, known)
  return bed !== undefined && farm.withdrawn.beds.has(bed) ? [withdrawnFact('bed', bed, false)] : []
}

/** Leaves out what was recorded at a plant that stays withdrawn. */
export function leaveOutVisits(farm: Farm, plant: PlantID): Fact[] {
  return [...farm.visitsOf.get(plant) ?? []].flatMap((id) => {
    const visit = farm.visits.get(id)
    return visit ? [withdrawnFact('visit', id, true, visitScope(visit.purpose))] : []
  })
}
