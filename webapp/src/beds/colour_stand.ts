// The plants of a crop that were measured in the newest season, each with its colour, what is said of it, and its class.

import { classIn, type PlantClass } from '../crop/colour_class'
import type { MeasuredColour } from '../crop/measured_colour'
import type { Day, Farm, Plant, PlantID, Season } from '../crop/nouns'
import { inWalkOrder } from '../crop/walk_order'
import { bedsByName } from './bed'
import { bedOf } from '../crop/places'
import type { ColourReport, PlantSeason, StandShift, State } from './colour_report'
import { type BySeason, coloursBySeason, coloursOfPlant } from './plant_colours'
import { stands } from './stems'

/** first: measured well in no season before, so that there is nothing to hold it against. */
export type StandState = State | 'first'

export interface StandPlant {
  readonly plant: Plant
  readonly colour: MeasuredColour
  readonly state: StandState
  /** undefined in its first good season. */
  readonly judged: PlantSeason | undefined
  readonly class: PlantClass | undefined
}

export interface ColourStand {
  /** The newest in which anything was measured. */
  readonly season: Season
  /** Coverage of every interval, such as 0.9. */
  readonly level: number
  /** Those that stand, in walk order; reference plants are apart. */
  readonly plants: readonly StandPlant[]
  readonly references: readonly StandPlant[]
  /** What the whole stand did; undefined in its first season. */
  readonly shift: StandShift | undefined
  /** Every plant's measured colours, those that are not in it included. */
  readonly colours: ReadonlyMap<PlantID, BySeason>
}

/** undefined where nothing was measured. */
export function colourStand(farm: Farm, report: ColourReport, day: Day): ColourStand | undefined {
  const season = newestSeason(report)
  if (season === undefined) return undefined
  const colours = coloursBySeason(report)
  const judged = new Map([...report.plant_seasons, ...report.references].filter((one) => one.season === season).map((one) => [one.plant, one]))
  const measured = inFieldOrder(farm, [...colours].flatMap(([id, of]) => {
    const plant = farm.plants.get(id)
    return plant && of.has(season) && stands(plant.removed, day) ? [plant] : []
  }))
  const all = measured.map((plant) => standPlant(farm, plant, season, coloursOfPlant(farm, colours, plant.id), judged.get(plant.id)))
  return {
    season, level: report.level, colours, shift: report.stand.find((one) => one.season === season),
    plants: all.filter(({ plant }) => !plant.reference), references: all.filter(({ plant }) => plant.reference),
  }
}

function standPlant(farm: Farm, plant: Plant, season: Season, measured: BySeason, judged: PlantSeason | undefined): StandPlant {
  const colour = measured.get(season)
  if (!colour) throw new Error(`the stand's colours: ${plant.code} was not measured in ${season}`)
  // The shed judges every season but the first good one of a plant, whether or not it was read before.
  const state = judged?.state ?? 'first'
  return { plant, colour, state, judged, class: classIn(farm, plant, season, measured) }
}

function newestSeason({ colours }: Pick<ColourReport, 'colours'>): Season | undefined {
  return colours.reduce<Season | undefined>((newest, { season }) => (newest === undefined || season > newest ? season : newest), undefined)
}

/** Bed by bed as the beds are named, each as it is walked; those of a bed unknown here last. */
export function inFieldOrder(farm: Farm, plants: readonly Plant[]): Plant[] {
  const order = new Map(bedsByName(farm).map(({ id }, i) => [id, i]))
  const at = (plant: Plant) => order.get(bedOf(farm, plant) ?? ('' as never)) ?? order.size
  return inWalkOrder(plants).sort((a, b) => at(a) - at(b))
}

/** Plants of a crop that stand, in walk order. */
export function standingOf(farm: Farm, species: string, day: Day): Plant[] {
  return inFieldOrder(farm, [...farm.plants.values()].filter((plant) => stands(plant.removed, day) && speciesOf(farm, plant) === species))
}

export function speciesOf(farm: Farm, plant: Plant): string | undefined {
  const planting = farm.plantings.get(plant.planting)
  return planting && farm.stocks.get(planting.stock)?.species
}
