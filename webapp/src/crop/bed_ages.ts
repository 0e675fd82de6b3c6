// Which plantings stood in a bed on a day, and in which season in the ground: what a lot's stems came from.

import { parseDay } from './day'
import type { BedID, Day, Farm, Plant, Planting, PlantingID } from './nouns'
import { bedOn } from './places'
import { ageIn, seasonOf } from './season'
import { stands } from './standing'

export interface Stood {
  readonly planting: Planting
  /** Its season in the ground. */
  readonly age: number
}

/** The plantings of which a plant stood in the bed on the day, and those of the bed that have no plants of their own; the oldest first. */
export function stoodIn(farm: Farm, bed: BedID | '', day: Day): readonly Stood[] {
  if (bed === '' || parseDay(day) === undefined) return []
  const season = seasonOf(farm.calendar, day)
  return [...groundOf(farm).get(bed)?.values() ?? []]
    .filter(({ planting, plants }) => (planting.planted === '' || planting.planted <= day) && stoodThere(farm, bed, planting, plants, day))
    .map(({ planting }) => ({ planting, age: ageIn(planting, season) }))
    .filter(({ age }) => age > 0)
    .sort((a, b) => b.age - a.age || (a.planting.id < b.planting.id ? -1 : 1))
}

function stoodThere(farm: Farm, bed: BedID, planting: Planting, plants: readonly Plant[], day: Day): boolean {
  if (plants.length === 0) return planting.bed === bed
  return plants.some((plant) => stands(plant.removed, day) && bedOn(farm, plant, day) === bed)
}

interface InBed {
  readonly planting: Planting
  /** Of the planting, those that stand in the bed or ever did. */
  readonly plants: Plant[]
}

type Ground = ReadonlyMap<BedID, ReadonlyMap<PlantingID, InBed>>

/** A year has hundreds of cut days, and the ground is the same for all of them. */
const known = new WeakMap<Farm['plants'], { readonly version: number; readonly ground: Ground }>()

function groundOf(farm: Farm): Ground {
  const before = known.get(farm.plants)
  if (before?.version === farm.groundVersion) return before.ground
  const ground = new Map<BedID, Map<PlantingID, InBed>>()
  const withPlants = new Set<PlantingID>()
  for (const plant of farm.plants.values()) {
    const planting = farm.plantings.get(plant.planting)
    if (!planting) continue
    withPlants.add(planting.id)
    for (const bed of new Set([plant.bed === '' ? planting.bed : plant.bed, ...plant.stood.map((stay) => stay.bed)])) inBed(ground, bed, planting).plants.push(plant)
  }
  for (const planting of farm.plantings.values()) if (!withPlants.has(planting.id)) inBed(ground, planting.bed, planting)
  known.set(farm.plants, { version: farm.groundVersion, ground })
  return ground
}

function inBed(ground: Map<BedID, Map<PlantingID, InBed>>, bed: BedID, planting: Planting): InBed {
  const there = ground.get(bed) ?? new Map<PlantingID, InBed>()
  ground.set(bed, there)
  const found = there.get(planting.id) ?? { planting, plants: [] }
  there.set(planting.id, found)
  return found
}
