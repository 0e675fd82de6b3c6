// Everything that a bed's picture is drawn from, read from the farm once for all seasons: walking through
// the seasons then reads no visit again.

import type { Bed, Day, Farm, Plant, Season } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { seasonOf, span } from '../crop/season'
import { type Ground, groundOf } from './bed_picture_ground'
import { seasonsOfPlant } from './stems'

/** Stems of a plant in a season: every one of a counted plant; of others those that somebody recorded, if any. */
export interface Stems {
  readonly n: number
  readonly told: 'counted' | 'recorded' | 'nobody'
}

export interface PastPlant {
  readonly plant: Plant
  readonly planted: Day
  readonly firstSeason: Season
  /** Nobody planted it. */
  readonly seedling: boolean
  readonly stems: ReadonlyMap<Season, Stems>
}

export interface BedPast {
  readonly farm: Farm
  readonly bed: Bed
  readonly today: Day
  readonly ground: Ground
  /** All that ever stood in it. */
  readonly plants: readonly PastPlant[]
  /** The most stems that one of them gave in a season. */
  readonly most: number
}

export const untold: Stems = { n: 0, told: 'nobody' }

export function pastOf(farm: Farm, bed: Bed, today: Day): BedPast {
  const plants: PastPlant[] = []
  let most = 0
  for (const plant of farm.plants.values()) {
    if (bedOf(farm, plant) !== bed.id && !plant.stood.some((stay) => stay.bed === bed.id)) continue
    const planting = farm.plantings.get(plant.planting)
    if (!planting) continue // on its way here: nobody knows yet since when it stands
    const stems = stemsOf(farm, plant, today)
    for (const { n } of stems.values()) most = Math.max(most, n)
    const { planted, firstSeason } = planting
    const seedling = plant.beside !== '' || farm.stocks.get(planting.stock)?.origin === 'self_sown'
    plants.push({ plant, planted, firstSeason, seedling, stems })
  }
  return { farm, bed, today, ground: groundOf(farm, bed), plants, most }
}

function stemsOf(farm: Farm, plant: Plant, today: Day): Map<Season, Stems> {
  const found = new Map<Season, Stems>()
  for (const { season, stems, counted } of seasonsOfPlant(farm, plant.id)) {
    // Before its window begins, a plant's silence means nothing.
    const told = counted && (plant.counted.get(season)?.from ?? today) <= today
    if (told || stems > 0) found.set(season, { n: stems, told: told ? 'counted' : 'recorded' })
  }
  return found
}

/** The day whose state a season's picture shows: its last, or today in the one that runs. */
export function shownDay({ farm, today }: BedPast, season: Season): Day {
  const { to } = span(farm.calendar, season)
  return to < today ? to : today
}

/** From the season in which the first plant came to the one that runs. */
export function seasonsBetween({ farm, plants, today }: BedPast): Season[] {
  const running = seasonOf(farm.calendar, today)
  const came = plants.map(({ planted, firstSeason }) => seasonOf(farm.calendar, planted) || firstSeason)
  const first = Math.min(running, ...came)
  return Array.from({ length: running - first + 1 }, (_, i) => (first + i) as Season)
}
