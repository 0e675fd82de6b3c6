// A plant's stems beside those of the others of its species and age. Only counted plants' complete seasons
// are compared: of the rest nobody knows what was not counted. Mirrors which seasons internal/yield takes whole.

import type { Day, Farm, Plant, PlantID, Season, Visit, Window } from '../crop/nouns'
import { bedOn } from '../crop/places'
import { ageIn, holds, seasonOf, span } from '../crop/season'
import { bedOfVisit, stemsIn } from '../crop/bed_day'

/** One plant's whole season. */
export interface WholeSeason {
  readonly plant: PlantID
  readonly code: string
  readonly species: string
  readonly season: Season
  readonly age: number
  readonly stems: number
}

/** Fewest others with which a plant is compared. */
export const fewestPeers = 5

interface Known {
  readonly layout: number
  readonly visits: number
  readonly calendar: Farm['calendar']
  readonly day: Day
  readonly seasons: readonly WholeSeason[]
}

/** By the farm's own map, which stays the same while it changes. */
const known = new WeakMap<Farm['plants'], Known>()

/** Every counted plant's complete seasons on the farm, as of a day; all visits are read anew only where some changed, or a plant's place. */
export function wholeSeasons(farm: Farm, day: Day): readonly WholeSeason[] {
  const { layoutVersion: layout, visitsVersion: visits, calendar } = farm
  const before = known.get(farm.plants)
  if (before?.layout === layout && before.visits === visits && before.calendar === calendar && before.day === day) return before.seasons
  const seasons = readSeasons(farm, day)
  known.set(farm.plants, { layout, visits, calendar, day, seasons })
  return seasons
}

function readSeasons(farm: Farm, day: Day): WholeSeason[] {
  const cutting = cuttingSpans(farm)
  return [...farm.plants.values()].flatMap((plant) => [...plant.counted].flatMap(([season, window]) => {
    const planting = farm.plantings.get(plant.planting)
    const stock = planting && farm.stocks.get(planting.stock)
    const age = planting ? ageIn(planting, season) : 0
    const whole = clipped(window, span(farm.calendar, season))
    const cut = cutting.get(`${season} ${bedOn(farm, plant, whole.from) ?? ''}`)
    if (!stock || age < 1 || !cut || !isComplete(plant, whole, cut, day)) return []
    const cuts = cutsWithin(farm, plant.id, whole)
    // Cut to order the count is a lower bound of what it bore.
    if (cuts.some(({ toOrder }) => toOrder)) return []
    const stems = cuts.reduce((sum, visit) => sum + stemsIn(visit), 0)
    return [{ plant: plant.id, code: plant.code, species: stock.species || stock.id, season, age, stems }]
  }))
}

/** Whether a window saw all of its bed's cutting, is over, and the plant stood through it. */
function isComplete(plant: Plant, window: Window, cut: Window, day: Day): boolean {
  const stood = plant.removed === '' || plant.removed >= cut.to
  return window.from <= cut.from && window.to >= cut.to && window.to < day && stood
}

function clipped(window: Window, season: Window): Window {
  return { from: window.from > season.from ? window.from : season.from, to: window.to < season.to ? window.to : season.to }
}

/** From when to when each bed was cut in each season, by whatever record. */
function cuttingSpans(farm: Farm): ReadonlyMap<string, Window> {
  const spans = new Map<string, Window>()
  for (const visit of farm.visits.values()) {
    const bed = visit.purpose === 'standing' || visit.purpose === 'nothing' || stemsIn(visit) === 0 ? undefined : bedOfVisit(farm, visit)
    if (bed === undefined) continue
    const key = `${seasonOf(farm.calendar, visit.date)} ${bed}`
    const { from, to } = spans.get(key) ?? { from: visit.date, to: visit.date }
    spans.set(key, { from: visit.date < from ? visit.date : from, to: visit.date > to ? visit.date : to })
  }
  return spans
}

function cutsWithin(farm: Farm, plant: PlantID, window: Window): Visit[] {
  return [...(farm.visitsOf.get(plant) ?? [])].flatMap((id) => {
    const visit = farm.visits.get(id)
    return visit?.purpose === 'cut' && holds(window, visit.date) ? [visit] : []
  })
}

export interface Compared {
  readonly season: Season
  readonly age: number
  readonly stems: number
  /** Other plants' whole seasons at that age, in whichever years. */
  readonly others: readonly WholeSeason[]
}

/** A plant's own whole seasons, the newest first, each with the others of its species and age. */
export function comparedOf(all: readonly WholeSeason[], plant: PlantID): Compared[] {
  const own = all.filter((one) => one.plant === plant).sort((a, b) => b.season - a.season)
  return own.map(({ season, age, stems, species }) => ({
    season, age, stems, others: all.filter((one) => one.plant !== plant && one.age === age && one.species === species),
  }))
}

export type Standing =
  | { readonly kind: 'few'; readonly n: number }
  | { readonly kind: 'most' | 'least' | 'middle' }
  | { readonly kind: 'more' | 'fewer'; readonly ofTen: number }

/** Where a number stands among others': than how many of ten it is more, or fewer, rounded down. */
export function standingAmong(stems: number, others: readonly number[]): Standing {
  if (others.length < fewestPeers) return { kind: 'few', n: others.length }
  const below = others.filter((one) => one < stems).length
  const above = others.filter((one) => one > stems).length
  if (below === others.length) return { kind: 'most' }
  if (above === others.length) return { kind: 'least' }
  const ofTen = Math.floor((10 * Math.max(below, above)) / others.length)
  return ofTen < 5 || below === above ? { kind: 'middle' } : { kind: below > above ? 'more' : 'fewer', ofTen }
}

/** So many dots can be told apart on a phone, and drawn at once. */
export const mostDrawn = 300

/** In the order of their stems, so that equals lie apart; of very many as many as are drawn, spread evenly through that order. */
export function drawnOf(others: readonly WholeSeason[]): readonly WholeSeason[] {
  const sorted = [...others].sort((a, b) => a.stems - b.stems)
  if (sorted.length <= mostDrawn) return sorted
  return Array.from({ length: mostDrawn }, (_, i) => sorted[Math.round((i * (sorted.length - 1)) / (mostDrawn - 1))]).filter((one) => one !== undefined)
}
