// The ground of a bed's picture: where a numbered place lies. Lines are spread over the width, numbers along
// the length; both by the most that the bed ever held, so that a place stays where it is from season to season.
// A number that is too far out for the bed does not count.

import type { Bed, Farm, Millimetres, Plant } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { reachOf } from '../crop/reach'

/** Millimetres: x along the bed from its first numbers, y across it from its first line. */
export interface Spot {
  readonly x: number
  readonly y: number
}

export interface Ground {
  readonly length: Millimetres
  readonly width: Millimetres
  readonly lines: number
  /** Places in the longest line; a number beyond is too far out to be drawn. */
  readonly numbers: number
  /** Whether the bed's measures are known; else each place is a square of one size. */
  readonly measured: boolean
  /** The room of one place, the lesser of along and across. */
  readonly pitch: number
}

/** A place's side where a bed has no measures. */
const side = 400

export function groundOf(farm: Farm, bed: Bed): Ground {
  let lines = Math.max(1, bed.lines)
  const used = new Set<number>()
  for (const plant of farm.plants.values()) {
    for (const place of placesIn(farm, plant, bed)) {
      lines = Math.max(lines, place.line)
      used.add(place.number)
    }
  }
  const numbers = Math.max(1, reachOf(used, bed.length))
  const measured = bed.length > 0 && bed.width > 0
  const length = measured ? bed.length : (numbers * side) as Millimetres
  const width = measured ? bed.width : (lines * side) as Millimetres
  return { length, width, lines, numbers, measured, pitch: Math.min(length / numbers, width / lines) }
}

/** Where a plant stands in a bed, and stood. */
function placesIn(farm: Farm, plant: Plant, bed: Bed): { readonly line: number; readonly number: number }[] {
  const stood = plant.stood.filter((stay) => stay.bed === bed.id)
  return bedOf(farm, plant) === bed.id ? [...stood, plant] : stood
}

/** The middle of a place. */
export function spotOf(ground: Ground, line: number, number: number): Spot {
  return {
    x: (ground.length * (number - 0.5)) / ground.numbers,
    y: (ground.width * (line - 0.5)) / ground.lines,
  }
}
