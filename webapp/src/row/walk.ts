// Which plants a walk calls out, and where it goes on.

import { bedOf } from '../crop/places'
import { countedOn, standingIn, stands } from '../crop/standing'
import type { Bed, BedID, Day, Farm, Plant, PlantID, Season } from '../crop/nouns'

/** Whom to call out: the counted plants, or every plant that stands. */
export type Whom = 'counted' | 'all'

/**
 * The plants called out, in walk order. Where none is counted every plant is, whatever was chosen;
 * one that somebody went to is called out once, counted or not.
 */
export function calledOut(farm: Farm, bed: BedID, season: Season, day: Day, whom: Whom, at: PlantID | ''): readonly Plant[] {
  const standing = standingIn(farm, bed, day)
  const counted = (plant: Plant) => countedOn(plant, season, day)
  if (whom === 'all' || !standing.some(counted)) return standing
  return standing.filter((plant) => counted(plant) || plant.id === at)
}

export interface BedToWalk {
  readonly bed: Bed
  readonly standing: number
  readonly counted: readonly Plant[]
}

/** Beds in which a plant stands, those with counted plants first, by name. */
export function bedsToWalk(farm: Farm, season: Season, day: Day): BedToWalk[] {
  const found = new Map<BedID, { standing: number; counted: Plant[] }>()
  for (const plant of farm.plants.values()) {
    const bed = bedOf(farm, plant)
    if (bed === undefined || !stands(plant.removed, day)) continue
    const one = found.get(bed) ?? { standing: 0, counted: [] }
    one.standing++
    if (countedOn(plant, season, day)) one.counted.push(plant)
    found.set(bed, one)
  }
  const beds = [...found].flatMap(([id, one]) => {
    const bed = farm.beds.get(id)
    return bed ? [{ bed, ...one }] : []
  })
  return beds.sort((a, b) =>
    Number(b.counted.length > 0) - Number(a.counted.length > 0)
    || a.bed.name.localeCompare(b.bed.name, undefined, { numeric: true }))
}

/** The next plant behind this one that nobody has seen today; undefined at the end of the walk. */
export function nextUnseen(order: readonly Plant[], at: PlantID | '', seen: (plant: PlantID) => boolean): Plant | undefined {
  const from = order.findIndex((plant) => plant.id === at) + 1
  return order.slice(from).find((plant) => !seen(plant.id))
}

/** Where a walk goes on that stood at a plant: there, unless it was seen since. */
export function goesOnAt(order: readonly Plant[], at: PlantID | '', seen: (plant: PlantID) => boolean): PlantID | '' {
  const here = order.some(({ id }) => id === at && !seen(id))
  return here ? at : nextUnseen(order, at, seen)?.id ?? ''
}

/** The plant one step before or behind, seen or not. */
export function neighbour(order: readonly Plant[], at: PlantID, step: 1 | -1): Plant | undefined {
  const from = order.findIndex((plant) => plant.id === at)
  return from < 0 ? order[0] : order[from + step]
}
