// Self-sown seedlings: plants that nobody set, which stand at another's foot or in a gap. Nobody knows their
// parents, so they have none, whatever they came up beside.

import type { Deed } from './deed'
import { plantFacts, withdrawnFact } from './facts'
import { type Ground, groundDeed } from './lineage'
import type { Farm, Place, Plant, PlantID, Stay } from './nouns'
import { bedOf, placeOf, placeOn } from './places'

export interface Seedling {
  readonly id: PlantID
  readonly code: string
  /** At whose foot it came up, or in which gap. */
  readonly at: { readonly beside: PlantID } | { readonly gap: Place }
}

/** Enters a seedling that came up, as a plant of the planting. */
export function selfSow(farm: Farm, { id, code, at }: Seedling, ground: Ground): Deed {
  const begun = groundDeed(farm, ground)
  const stands = 'beside' in at ? { beside: at.beside, line: 0, number: 0 } : { beside: '' as const, line: at.gap.line, number: at.gap.number }
  const born = plantFacts({
    id, code, planting: ground.planting.id, ...stands, parents: [], colour: '', removed: '', counted: new Map(),
  })
  return { facts: [...begun.facts, ...born], undo: [withdrawnFact('plant', id, true), ...begun.undo] }
}

/** Whether a plant is a seedling that nobody set. */
export function isSeedling(farm: Farm, plant: Plant): boolean {
  if (plant.beside !== '') return true
  const planting = farm.plantings.get(plant.planting)
  return planting !== undefined && farm.stocks.get(planting.stock)?.origin === 'self_sown'
}

/** At whose foot a seedling still stands; '' of one that was moved since, and of every other plant. */
export function standsBeside({ beside, line, places }: Plant): PlantID | '' {
  return line === 0 && places.length === 0 ? beside : ''
}

/** The place at whose foot a seedling came up: where the plant beside it stood that day, which may have been moved since without it. */
export function footOf(farm: Farm, { beside, planting }: Plant): Place | undefined {
  const foot = beside === '' ? undefined : farm.plants.get(beside)
  const came = farm.plantings.get(planting)?.planted
  return foot && came !== undefined ? placeOn(farm, foot, came) : undefined
}

/** Where the plant stood at whose foot a seedling came up, where it was moved away since; line 0 where no place in its bed is known. */
export function footLeft(farm: Farm, { beside, planting }: Plant): Stay | undefined {
  const foot = beside === '' ? undefined : farm.plants.get(beside)
  const came = farm.plantings.get(planting)?.planted
  if (!foot || came === undefined) return undefined
  const stay = foot.stood.find(({ until }) => came < until)
  const isBack = stay && bedOf(farm, foot) === stay.bed && foot.line === stay.line && foot.number === stay.number
  return isBack ? undefined : stay
}

/** The plant that stands nearest to a place of a bed, of which a seedling there may well have come; undefined in an empty bed. */
export function nearestTo(farm: Farm, place: Place): Plant | undefined {
  let nearest: { plant: Plant; far: number } | undefined
  for (const plant of farm.plants.values()) {
    if (plant.removed !== '' || bedOf(farm, plant) !== place.bed) continue
    const at = placeOf(farm, plant)
    const far = at ? Math.abs(at.line - place.line) + Math.abs(at.number - place.number) : Infinity
    if (!nearest || far < nearest.far) nearest = { plant, far }
  }
  return nearest?.plant
}
