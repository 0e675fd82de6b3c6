// The readings of a plant, the newest first: by its day, and of one day the one that was recorded last.

import type { Farm, PlantID, Reading, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { compareText } from '../log/order'

type Readings = Pick<Farm, 'readings' | 'readingsOf'>

export function readingsOfPlant(farm: Readings, plant: PlantID): Reading[] {
  const all = [...(farm.readingsOf.get(plant) ?? [])].flatMap((id) => farm.readings.get(id) ?? [])
  return all.sort((a, b) => compareText(b.date, a.date) || b.at - a.at || compareText(b.id, a.id))
}

export function newestReading(farm: Readings, plant: PlantID): Reading | undefined {
  return readingsOfPlant(farm, plant)[0]
}

export function hasReadingIn(farm: Readings & Pick<Farm, 'calendar'>, plant: PlantID, season: Season): boolean {
  return readingsOfPlant(farm, plant).some(({ date }) => seasonOf(farm.calendar, date) === season)
}
