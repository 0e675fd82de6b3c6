// Which plants stand in a bed, and which of them are counted.

import type { BedID, Day, Farm, Plant, Season } from './nouns'
import { bedOf, bedOn } from './places'
import { inWalkOrder } from './walk_order'

/** Whether a plant stands on a day. */
export function stands(removed: Day | '', day: Day): boolean {
  return removed === '' || removed > day
}

/** Plants of a bed, those gone left out, line by line as they are walked; without a place last. */
export function standingIn(farm: Farm, bed: BedID, day: Day): readonly Plant[] {
  return standingByBed(farm, day).get(bed) ?? []
}

interface Standing {
  readonly version: number
  readonly day: Day
  readonly byBed: ReadonlyMap<BedID, readonly Plant[]>
}

/** A tap asks several times, and changes no plant: a farm of 100,000 is sorted into its beds once. */
const known = new WeakMap<Farm['plants'], Standing>()

function standingByBed(farm: Farm, day: Day): Standing['byBed'] {
  const before = known.get(farm.plants)
  if (before?.version === farm.groundVersion && before.day === day) return before.byBed
  const found = new Map<BedID, Plant[]>()
  for (const plant of farm.plants.values()) {
    const bed = stands(plant.removed, day) ? bedOf(farm, plant) : undefined
    if (bed === undefined) continue
    const beside = found.get(bed)
    if (beside) beside.push(plant)
    else found.set(bed, [plant])
  }
  const byBed = new Map([...found].map(([bed, plants]) => [bed, inWalkOrder(plants)] as const))
  known.set(farm.plants, { version: farm.groundVersion, day, byBed })
  return byBed
}

/** Whether a plant's silence on a day means nothing: it stands, and the day is in its window. */
export function countedOn(plant: Plant, season: Season, day: Day): boolean {
  const window = plant.counted.get(season)
  return window !== undefined && window.from <= day && day <= window.to && stands(plant.removed, day)
}

/** The counted plants of a bed on a day, in walk order. */
export function countedIn(farm: Farm, bed: BedID, season: Season, day: Day): Plant[] {
  return inWalkOrder([...farm.plants.values()].filter((plant) => countedOn(plant, season, day) && bedOn(farm, plant, day) === bed))
}
