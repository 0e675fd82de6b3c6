// Stems cut, each counted once. A bench total is everything that its bed gave that day, so a day
// that has one takes nothing from the row; a bed cut comes next, and the plants' own cuts last.

import { ageIn, seasonOf } from '../crop/season'
import type { BedID, Day, Farm, Planting, PlantID, Purpose, Season, Visit } from '../crop/nouns'

const sources: readonly Purpose[] = ['bench', 'bed_cut', 'cut']

export function stemsIn(visit: Visit): number {
  return visit.counts.reduce((sum, count) => sum + count.stems, 0)
}

/** Stems of each bed in a season. */
export function stemsByBed(farm: Farm, season: Season): ReadonlyMap<BedID, number> {
  const days = new Map<string, { bed: BedID; visits: Visit[] }>()
  for (const visit of farm.visits.values()) {
    if (!sources.includes(visit.purpose) || stemsIn(visit) === 0) continue
    const bed = bedOf(farm, visit)
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
  const kept: Visit[] = []
  for (const source of sources) {
    const fuller = [...kept]
    for (const visit of visits) {
      if (visit.purpose === source && !fuller.some((other) => overlap(farm, season, other, visit))) kept.push(visit)
    }
  }
  return kept.reduce((sum, visit) => sum + stemsIn(visit), 0)
}

/** Whether a bed's total and another record of its day may hold the same stems. */
function overlap(farm: Farm, season: Season, total: Visit, other: Visit): boolean {
  const planting = plantingOf(farm, other)
  if (total.planting !== '' && planting) return total.planting === planting.id
  const age = other.age || (planting ? ageIn(planting, season) : 0)
  return total.age === 0 || age === 0 || total.age === age
}

function plantingOf(farm: Farm, visit: Visit): Planting | undefined {
  const id = visit.plant === '' ? visit.planting : farm.plants.get(visit.plant)?.planting ?? ''
  return id === '' ? undefined : farm.plantings.get(id)
}

function bedOf(farm: Farm, visit: Visit): BedID | undefined {
  return visit.bed === '' ? plantingOf(farm, visit)?.bed : visit.bed
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

/** Whether a plant stands on a day. */
export function stands(removed: Day | '', day: Day): boolean {
  return removed === '' || removed > day
}
