// Flags raised on a farm by kind, and the plants of a kind as they are walked: bed by bed.

import type { Bed, BedID, Day, Farm, FlagKind, Plant, PlantID } from '../crop/nouns'
import { flagKinds } from '../crop/nouns'
import { standingFlag } from '../crop/flags'
import { protectedStock } from '../crop/lineage'
import { bedOf } from '../crop/places'
import { inWalkOrder } from '../crop/walk_order'
import { bedsByName } from './bed'
import { stands } from './stems'

export interface FlaggedBed {
  /** Undefined where the bed is not known here yet. */
  readonly bed: Bed | undefined
  readonly plants: readonly Plant[]
}

/** Plants that stand with a flag of any kind, in all beds or in one. */
export function flaggedIn(farm: Farm, bed: BedID | undefined, day: Day): Plant[] {
  return flagged(farm, bed).filter((plant) => stands(plant.removed, day))
}

/** How many plants that are gone still have a flag. */
export function flaggedGone(farm: Farm, bed: BedID | undefined, day: Day): number {
  return flagged(farm, bed).filter((plant) => !stands(plant.removed, day)).length
}

function flagged(farm: Farm, bed: BedID | undefined): Plant[] {
  return [...farm.plants.values()].filter((plant) => plant.flags.length > 0 && (bed === undefined || bedOf(farm, plant) === bed))
}

/** How many plants have each kind. */
export function countsByKind(plants: readonly Plant[]): ReadonlyMap<FlagKind, number> {
  return new Map(flagKinds.map((kind) => [kind, plants.filter((plant) => standingFlag(plant, kind)).length]))
}

/** Plants in walk order, bed by bed as the beds are named; those of beds unknown here last. */
export function bedByBed(farm: Farm, plants: readonly Plant[]): FlaggedBed[] {
  const inOrder = inWalkOrder(plants)
  const beds = [...bedsByName(farm), undefined].map((bed) => ({ bed, plants: inOrder.filter((plant) => farm.beds.get(bedOf(farm, plant) ?? ('' as BedID)) === bed) }))
  return beds.filter((one) => one.plants.length > 0)
}

/** Those of protected stock, which may not be propagated. */
export function protectedAmong(farm: Farm, plants: readonly Plant[]): ReadonlySet<PlantID> {
  return new Set(plants.filter((plant) => protectedStock(farm, plant) !== undefined).map(({ id }) => id))
}
