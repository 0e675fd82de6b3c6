// Which plants a colour session leads to, in which order, and where it goes on.

import type { BedID, Day, Farm, Plant, PlantID, Season } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { ageIn } from '../crop/season'
import { countedOn, standingIn } from '../crop/standing'
import { hasReadingIn, readingsOfPlant } from '../measuring/plant_readings'
import { referencesBeside } from '../measuring/references'
import type { Whom } from './walk'

/** Plants of a bed that may be photographed, in walk order. */
export interface ToMeasure {
  /** Those without a reading this season. */
  readonly fresh: readonly Plant[]
  readonly again: readonly Plant[]
}

/** What is planned unless somebody says otherwise: about an hour of it. */
const usual = 30

/** Counted plants or all; where none is counted, all. Reference plants have their own turn. */
export function toMeasure(farm: Farm, bed: BedID, season: Season, day: Day, whom: Whom): ToMeasure {
  const old = standingIn(farm, bed, day).filter((plant) => isInSeason(farm, plant, season) && !plant.reference)
  const counted = old.filter((plant) => countedOn(plant, season, day))
  const all = whom === 'counted' && counted.length > 0 ? counted : old
  const fresh = all.filter(({ id }) => !hasReadingIn(farm, id, season))
  return { fresh, again: all.filter((plant) => !fresh.includes(plant)) }
}

function isInSeason(farm: Farm, { planting: of }: Plant, season: Season): boolean {
  const planting = farm.plantings.get(of)
  return planting !== undefined && ageIn(planting, season) >= 1
}

/** How many to plan: those that have no reading yet, else all, and no more than are photographed in an hour. */
export function usualPlan({ fresh, again }: ToMeasure): number {
  return Math.min(usual, fresh.length > 0 ? fresh.length : again.length)
}

/** Those planned, once along the bed for those without a reading and once more for the others. */
export function planned({ fresh, again }: ToMeasure, plants: number): PlantID[] {
  return [...fresh, ...again].slice(0, plants).map(({ id }) => id)
}

/** The reference plants of the crops that stand in a bed, those of this bed first, each bed in walk order. */
export function referencesFor(farm: Farm, bed: BedID, day: Day): Plant[] {
  const all = referencesBeside(farm, standingIn(farm, bed, day), day)
  const here = (plant: Plant) => bedOf(farm, plant) === bed
  return [...all.filter(here), ...all.filter((plant) => !here(plant))]
}

/** Whether a plant was photographed on a day, in whatever session. */
export function isDone(farm: Farm, plant: PlantID, day: Day): boolean {
  return readingsOfPlant(farm, plant).some(({ date }) => date === day)
}

/** The next behind one that is not done; from the beginning where it is none of them. */
export function nextWaiting(order: readonly PlantID[], at: PlantID | '', done: (plant: PlantID) => boolean): PlantID | '' {
  const from = at === '' ? 0 : order.indexOf(at) + 1
  return order.slice(from).find((id) => !done(id)) ?? ''
}
