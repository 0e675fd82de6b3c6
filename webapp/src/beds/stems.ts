// Stems cut, by bed and by plant.

import { bedOfVisit, countedOnce, sources, stemsIn } from '../crop/bed_day'
import { ageIn, seasonOf } from '../crop/season'
import type { BedID, Farm, PlantID, Season, Visit } from '../crop/nouns'

export { stands } from '../crop/standing'

/** Stems of each bed in a season. */
export function stemsByBed(farm: Farm, season: Season): ReadonlyMap<BedID, number> {
  const days = new Map<string, { bed: BedID; visits: Visit[] }>()
  for (const visit of farm.visits.values()) {
    if (!sources.includes(visit.purpose) || stemsIn(visit) === 0) continue
    const bed = bedOfVisit(farm, visit)
    if (bed === undefined || seasonOf(farm.calendar, visit.date) !== season) continue
    const key = `${visit.date} ${bed}`
    const day = days.get(key)
    if (day) day.visits.push(visit)
    else days.set(key, { bed, visits: [visit] })
  }
  const totals = new Map<BedID, number>()
  for (const { bed, visits } of days.values()) totals.set(bed, (totals.get(bed) ?? 0) + stemsOfDay(farm, season, visits))
  return totals
}

function stemsOfDay(farm: Farm, season: Season, visits: readonly Visit[]): number {
  return countedOnce(farm, season, visits).reduce((sum, visit) => sum + stemsIn(visit), 0)
}

export interface PlantSeason {
  readonly season: Season
  readonly age: number
  readonly stems: number
  readonly counted: boolean
}

/** A plant's stems in each season that it was counted or cut in, the newest first. */
export function seasonsOfPlant(farm: Farm, plant: PlantID): PlantSeason[] {
  const own = farm.plants.get(plant)
  const planting = own && farm.plantings.get(own.planting)
  const stems = new Map<Season, number>()
  for (const season of own?.counted.keys() ?? []) stems.set(season, 0)
  for (const visit of visitsOf(farm, plant)) {
    if (visit.purpose !== 'cut') continue
    const season = seasonOf(farm.calendar, visit.date)
    stems.set(season, (stems.get(season) ?? 0) + stemsIn(visit))
  }
  return [...stems].sort(([a], [b]) => b - a).map(([season, n]) => ({
    season, age: planting ? ageIn(planting, season) : 0, stems: n, counted: own?.counted.has(season) ?? false,
  }))
}

/** A plant's visits, the newest first. */
export function visitsOf(farm: Farm, plant: PlantID): Visit[] {
  const found: Visit[] = []
  for (const id of farm.visitsOf.get(plant) ?? []) {
    const visit = farm.visits.get(id)
    if (visit) found.push(visit)
  }
  return found.sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0))
}
