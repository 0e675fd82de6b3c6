// Where the plants of a bed stand in a small drawing of it: its lines as rows, its numbers along them.

import type { Day, Farm, Place, PlantID } from '../crop/nouns'
import { placeOf } from '../crop/places'
import { reachOf } from '../crop/reach'
import { stands } from './stems'

export interface Spot {
  readonly plant: PlantID
  readonly line: number
  readonly number: number
  /** It stands no more: its place is drawn as a gap, unless another stands there. */
  readonly gone: boolean
}

export interface BedMap {
  readonly lines: number
  /** The highest number along a line that is drawn. */
  readonly length: number
  readonly spots: readonly Spot[]
  /** Plants whose number lies too far out to be drawn. */
  readonly far: number
}

/** The places of a bed; what stands last in the list is drawn last. Undefined where no plant has a place. */
export function mapOf(farm: Farm, bed: Place['bed'], day: Day): BedMap | undefined {
  const spots = [...farm.plants.values()].flatMap((plant) => {
    const place = placeOf(farm, plant)
    return place?.bed === bed ? [{ plant: plant.id, line: place.line, number: place.number, gone: !stands(plant.removed, day) }] : []
  })
  if (spots.length === 0) return undefined
  const lines = Math.max(farm.beds.get(bed)?.lines ?? 0, ...spots.map(({ line }) => line))
  const length = reachOf(spots.map(({ number }) => number), farm.beds.get(bed)?.length ?? 0)
  const drawn = spots.filter(({ number }) => number <= length)
  return { lines, length, far: spots.length - drawn.length, spots: drawn.sort((a, b) => Number(b.gone) - Number(a.gone)) }
}
