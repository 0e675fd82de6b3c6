// Planting a tray: which places it fills, which season will be its first, and what is said of it.

import type { Fact } from '../log/change'
import { parseDay, yearOf } from './day'
import type { Deed } from './deed'
import { holdsBed } from './edits'
import { bedFacts, plantFacts, withdrawnFact } from './facts'
import { groundDeed } from './lineage'
import type { Bed, BedID, Calendar, Day, Farm, Place, PlantID, Planting, PlantingID, Season, Stock, StockID } from './nouns'
import { placeKey, placeOf, placesHeld } from './places'

/** Plants that one operation says at the most: with five changes each they stay under what it may hold. */
export const mostPlants = 5_000

/** Which lines of a bed are filled, and from which number on. */
export interface Lines {
  readonly from: number
  readonly to: number
  /** Number along each line at which filling begins. */
  readonly first: number
}

/** Everything that stands, by its place. */
export function takenPlaces(farm: Farm, bed?: BedID): Set<string> {
  const taken = new Set<string>()
  for (const plant of farm.plants.values()) {
    if (plant.removed !== '') continue
    for (const place of placesHeld(farm, plant)) if (bed === undefined || place.bed === bed) taken.add(placeKey(place))
  }
  return taken
}

/**
 * The places that a number of plants fill: as many in each line as in the others, one more in the first
 * ones where it does not come out even, each line from its first number on, past what stands there.
 */
export function placesFor(taken: ReadonlySet<string>, bed: BedID, lines: Lines, plants: number): Place[] {
  const places: Place[] = []
  const n = lines.to - lines.from + 1
  for (let line = lines.from; line <= lines.to; line++) {
    const share = Math.floor(plants / n) + (line - lines.from < plants % n ? 1 : 0)
    let left = share
    for (let number = lines.first; left > 0; number++) {
      const place = { bed, line, number }
      if (taken.has(placeKey(place))) continue
      places.push(place)
      left--
    }
  }
  return places
}

/** How far along each line of a bed plants were ever set, those since gone or moved too. */
export function plantedTo(farm: Farm, bed: BedID): ReadonlyMap<number, number> {
  const ends = new Map<number, number>()
  for (const plant of farm.plants.values()) {
    const now = placeOf(farm, plant)
    for (const place of [...(now ? [now] : []), ...plant.stood]) {
      if (place.bed === bed && place.line > 0) ends.set(place.line, Math.max(place.number, ends.get(place.line) ?? 0))
    }
  }
  return ends
}

/** Free places of the lines as far as they were planted, line by line from the first number on. */
export function gapsIn(ends: ReadonlyMap<number, number>, taken: ReadonlySet<string>, bed: BedID, lines: Lines): Place[] {
  const gaps: Place[] = []
  for (let line = lines.from; line <= lines.to; line++) {
    for (let number = lines.first; number <= (ends.get(line) ?? 0); number++) {
      const place = { bed, line, number }
      if (!taken.has(placeKey(place))) gaps.push(place)
    }
  }
  return gaps
}

/** How many places that are taken lie between the first number and the last place filled of each line. */
export function passedOver(taken: ReadonlySet<string>, places: readonly Place[], first: number): number {
  const lastOf = new Map<number, Place>()
  for (const place of places) if (place.number > (lastOf.get(place.line)?.number ?? 0)) lastOf.set(place.line, place)
  let passed = 0
  for (const last of lastOf.values()) {
    for (let number = first; number < last.number; number++) if (taken.has(placeKey({ ...last, number }))) passed++
  }
  return passed
}

/**
 * The first season of what is planted on a day: set before midsummer it is that year's, set after, the next
 * spring's, for it will not flower before. Common practice, no source; whoever planted it may say otherwise.
 */
export function firstSeasonOf(calendar: Calendar, planted: Day): Season {
  if (parseDay(planted) === undefined) return 0 as Season
  // In the south a year's spring comes in September, so all that is set in the calendar year comes before it.
  const afterMidsummer = !calendar.southern && planted.slice(5) >= '07-01'
  return (yearOf(planted) + (afterMidsummer ? 1 : 0)) as Season
}

/** A time of planting that people name without a day. */
export interface PlantingTime {
  readonly name: 'spring' | 'autumn'
  readonly year: number
  /** A day in the middle of it. */
  readonly day: Day
}

/** Spring and autumn as they were last, the later one first. The days are common practice, no source. */
export function lastPlantingTimes(calendar: Calendar, today: Day): PlantingTime[] {
  const [spring, autumn] = calendar.southern ? ['09-15', '04-15'] : ['04-15', '09-15']
  const lastOf = (name: PlantingTime['name'], monthDay: string): PlantingTime => {
    const year = today.slice(5) > monthDay ? yearOf(today) : yearOf(today) - 1
    return { name, year, day: `${year}-${monthDay}` as Day }
  }
  return [lastOf('spring', spring!), lastOf('autumn', autumn!)].sort((a, b) => (a.day > b.day ? -1 : 1))
}

/** A tray as it is told: what, where and when. Bed and stock may both be new. */
export interface Tray {
  readonly bed: Bed
  readonly stock: Stock
  readonly planting: Planting
  readonly plants: readonly { readonly id: PlantID; readonly code: string; readonly place: Place }[]
}

/** What a tray was planted with, for undoing it. */
export interface Planted {
  readonly planting: PlantingID
  /** What was made for it, '' where it was there before. */
  readonly newBed: BedID | ''
  readonly newStock: StockID | ''
}

/** Says a tray as one operation: its bed and stock where they are new, the planting, and each plant. */
export function plantOut(farm: Farm, { bed, stock, planting, plants }: Tray): readonly Fact[] {
  if (plants.length > mostPlants) throw new Error(`planting ${plants.length} at once: ${mostPlants} is the most; plant them in parts`)
  return [
    ...(farm.beds.has(bed.id) ? [] : bedFacts(bed)),
    ...groundDeed(farm, { planting, stock }).facts,
    ...plants.flatMap(({ id, code, place: { line, number } }) => plantFacts({
      id, code, planting: planting.id, line, number, parents: [], beside: '', colour: '', removed: '', counted: new Map(),
    })),
  ]
}

/**
 * What takes a planting back with all its plants, and the bed and stock that were made for it unless
 * something else has come to them since.
 */
export function undoPlanting(farm: Farm, { planting, newBed, newStock }: Planted): Deed['undo'] {
  const others = [...farm.plantings.values()].filter(({ id }) => id !== planting)
  const plants = [...farm.plants.values()].filter((plant) => plant.planting === planting)
  const stockUsed = others.some(({ stock }) => stock === newStock) || [...farm.stocks.values()].some(({ from }) => newStock !== '' && from === newStock)
  return [
    ...plants.map(({ id }) => withdrawnFact('plant', id, true)),
    withdrawnFact('planting', planting, true),
    ...(newStock === '' || stockUsed ? [] : [withdrawnFact('stock', newStock, true)]),
    ...(newBed === '' || holdsBed(farm, newBed, planting) ? [] : [withdrawnFact('bed', newBed, true)]),
  ]
}

/** Whether anything came of a planting's plants that taking it back would leave without one: visits, divisions, seedlings at their feet. */
export function wasUsed(farm: Farm, planting: PlantingID): boolean {
  const isOwn = (id: PlantID | '') => id !== '' && farm.plants.get(id)?.planting === planting
  return [...farm.plants.values()].some(({ id, parents, beside }) =>
    parents.some(isOwn) || isOwn(beside) || (isOwn(id) && (farm.visitsOf.get(id)?.size ?? 0) > 0))
}
