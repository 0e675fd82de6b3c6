// A bed's plants as the grower asks after them.

import type { Bed, BedID, Day, Farm, Plant, Planting, Season, Window } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { span } from '../crop/season'
import { stemsByBed } from './stems'

export { standingIn } from '../crop/standing'

export function plantingsIn(farm: Farm, bed: BedID): Planting[] {
  return [...farm.plantings.values()]
    .filter((planting) => planting.bed === bed)
    .sort((a, b) => (a.planted < b.planted ? -1 : a.planted > b.planted ? 1 : 0))
}

export function bedsByName(farm: Farm): Bed[] {
  return [...farm.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
}

/** The window of a plant that begins to be counted today: to the end of the season. */
export function windowFrom(farm: Farm, season: Season, day: Day): Window {
  return { from: day, to: span(farm.calendar, season).to }
}

/**
 * The window of a plant that is marked as counted by hand: from the season's first day as long as
 * nobody has cut in its bed, since nothing can have been missed; else from today.
 */
export function windowMarked(farm: Farm, plant: Plant, season: Season, day: Day): Window {
  const bed = bedOf(farm, plant)
  const whole = span(farm.calendar, season)
  return bed === undefined || stemsByBed(farm, season).has(bed) ? { from: day, to: whole.to } : whole
}

/** What ending the counting today makes of a window; undefined where it had not begun. */
export function endedWindow(window: Window, day: Day): Window | undefined {
  if (window.from > day) return undefined
  return window.to > day ? { from: window.from, to: day } : window
}

/** Plants whose counting goes on after the day. */
export function stillCounted(plants: readonly Plant[], season: Season, day: Day): Plant[] {
  return plants.filter((plant) => (plant.counted.get(season)?.to ?? '') > day)
}
