// What tasks ask of the ground: by bed, the plants that stand, their stocks, and what was done there this season.

import type { Intent } from './ahead_nouns'
import { decisionOf } from './intents'
import { mayDivide } from './lineage'
import type { Bed, BedEvent, BedID, Day, EventKind, Farm, Plant, PlantingID, Season, StockID } from './nouns'
import { bedOf, bedOn } from './places'
import { ageIn, seasonOf } from './season'
import { standingIn } from './standing'
import { divideFromAge } from './task_practice'

export interface BedGround {
  readonly bed: Bed
  /** In walk order. */
  readonly plants: readonly Plant[]
  readonly stocks: ReadonlySet<StockID>
  /** What was done to the bed this season, the earliest first. */
  readonly events: readonly BedEvent[]
}

/** The beds in which a plant stands, by name. */
export function groundsOf(farm: Farm, season: Season, today: Day): BedGround[] {
  const events = new Map<BedID, BedEvent[]>()
  for (const event of farm.events.values()) {
    if (seasonOf(farm.calendar, event.date) === season) events.set(event.bed, [...(events.get(event.bed) ?? []), event])
  }
  const beds = [...farm.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
  return beds.flatMap((bed) => {
    const plants = standingIn(farm, bed.id, today)
    if (plants.length === 0) return []
    const stocks = new Set(plants.flatMap(({ planting }) => farm.plantings.get(planting)?.stock ?? []))
    const done = (events.get(bed.id) ?? []).sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    return [{ bed, plants, stocks, events: done }]
  })
}

/** The first day on which one of some things was done to the bed; '' where none was. */
export function eventDay({ events }: BedGround, kinds: readonly EventKind[]): Day | '' {
  return events.find(({ kind }) => kinds.includes(kind))?.date ?? ''
}

/** The first day of a season on which a flag of mothers was raised in the bed. */
export function motherDay(farm: Farm, { plants }: BedGround, season: Season): Day | '' {
  const days = plants.flatMap(({ flags }) => flags.filter(({ kind, day }) => kind === 'mother' && seasonOf(farm.calendar, day) === season).map(({ day }) => day))
  return earliest(days)
}

/** The last day on which a stand walk of a season found something in the bed. */
export function standDay({ plants }: BedGround, season: Season): Day | '' {
  return plants.map(({ stands }) => stands.get(season)?.day ?? '').sort().at(-1) ?? ''
}

/** The first day of a season on which plants of the bed were divided, by bed. */
export function dividedOn(farm: Farm, season: Season): ReadonlyMap<BedID, Day> {
  const found = new Map<BedID, Day>()
  for (const { parents, planting } of farm.plants.values()) {
    const planted = farm.plantings.get(planting)?.planted
    if (parents.length === 0 || planted === undefined || seasonOf(farm.calendar, planted) !== season) continue
    for (const id of parents) {
      const parent = farm.plants.get(id)
      const bed = parent && bedOn(farm, parent, planted)
      if (bed !== undefined && !(found.get(bed)! <= planted)) found.set(bed, planted)
    }
  }
  return found
}

/** Plants of the bed that may be divided and are old enough for it. */
export function oldEnough(farm: Farm, { plants }: BedGround, season: Season): number {
  const plantings = new Map<PlantingID, boolean>() // all plants of one are as old, and of one stock
  return plants.filter((plant) => {
    const asked = plantings.get(plant.planting)
    if (asked !== undefined) return asked
    const planting = farm.plantings.get(plant.planting)
    const may = planting !== undefined && ageIn(planting, season) >= divideFromAge && mayDivide(farm, plant) === 'yes'
    plantings.set(plant.planting, may)
    return may
  }).length
}

/**
 * How many plants in each bed were decided to be divided and are not; undefined where nothing is decided for the season, and
 * nothing of the one before is left to do, as the walk in the row has it.
 */
export function plannedDivisions(farm: Farm, season: Season): ReadonlyMap<BedID, number> | undefined {
  const open = (intent: Intent) => intent.do === 'divide' && intent.done === '' && decisionOf(farm, intent.plant, season) === intent
  const decided = [...farm.ahead.intents.values()].filter((intent) => intent.season === season || open(intent))
  if (decided.length === 0) return undefined
  const found = new Map<BedID, number>()
  for (const intent of decided.filter(open)) {
    const plant = farm.plants.get(intent.plant)
    const bed = plant && mayDivide(farm, plant) === 'yes' ? bedOf(farm, plant) : undefined
    if (bed !== undefined) found.set(bed, (found.get(bed) ?? 0) + 1)
  }
  return found
}

export function earliest(days: readonly (Day | '')[]): Day | '' {
  return days.filter((day) => day !== '').sort()[0] ?? ''
}
