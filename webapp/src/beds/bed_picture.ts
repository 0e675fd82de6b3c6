// A bed in one season as it is drawn: who stood where, in which colour, with how many stems, under which
// flags, and which places stood empty after a plant was gone. In the colours of classes, or as they were measured.

import { dayOf } from '../crop/day'
import type { ColourID, Day, FlagKind, Place, Plant, PlantID, Season } from '../crop/nouns'
import { bedOn, placeOn, samePlace } from '../crop/places'
import { footOf } from '../crop/seedlings'
import { span } from '../crop/season'
import { type Spot, spotOf } from './bed_picture_ground'
import { type Measured, paintedAs, type Told } from './bed_picture_measured'
import { type BedPast, type PastPlant, seasonsBetween, shownDay, type Stems, untold } from './bed_picture_past'
import { besidePitch, radiusOf, samePlacePitch } from './bed_picture_size'

/** A plant that stood in the bed. */
export interface Stood {
  readonly plant: Plant
  /** Its numbered place at the time; undefined where none is known. */
  readonly place: Place | undefined
  readonly colour: ColourID | ''
  /** '#rrggbb', or '' where its colour is not known. */
  readonly swatch: string
  /** Of its colour, in a picture of measured ones. */
  readonly told: Told | undefined
  readonly stems: Stems
  readonly flags: readonly FlagKind[]
  readonly seedling: boolean
  /** It stood when the season began and was gone by the day shown. */
  readonly gone: boolean
}

export interface Head extends Stood {
  readonly at: Spot
  /** The place on which it is drawn: its own, or that of the plant at whose foot it came up. */
  readonly on: Place
  /** In the bed's millimetres. */
  readonly radius: number
}

export interface Picture {
  readonly season: Season
  readonly heads: readonly Head[]
  /** Places on which a plant stood and nothing stands. */
  readonly gaps: readonly Spot[]
  /** Plants of the bed whose place nobody knows. */
  readonly unplaced: readonly Stood[]
  /** Plants whose number lies too far out to be drawn, and how many places there stood empty. */
  readonly far: readonly Stood[]
  readonly gapsFar: number
}

/** All that stand in it, and those gone in the season, drawn or not. */
export function allOf({ heads, far, unplaced }: Pick<Picture, 'heads' | 'far' | 'unplaced'>): Stood[] {
  return [...heads, ...far, ...unplaced]
}

/** The seasons in which the bed had plants, the first first. */
export function pictureSeasons(past: BedPast): Season[] {
  return seasonsBetween(past).filter((season) => past.plants.some((one) => stoodIn(past, one, season)))
}

/** In the colours of classes, or with `measured` in those. */
export function pictureOf(past: BedPast, season: Season, measured?: Measured): Picture {
  const day = shownDay(past, season)
  const stood: Stood[] = []
  const left: Place[] = []
  for (const one of past.plants) {
    if (one.planted > day) continue
    left.push(...placesLeft(past, one, day))
    if (stoodIn(past, one, season)) stood.push(stoodAs(past, one, season, day, measured))
    else left.push(...placeInBed(past, one.plant, day))
  }
  const { heads, unplaced, far } = placed(past, stood, day)
  const taken = new Set(stood.flatMap(({ place }) => (place ? [keyOf(place)] : [])))
  const gaps = new Map(left.filter((place) => !taken.has(keyOf(place))).map((place) => [keyOf(place), place]))
  const near = [...gaps.values()].filter(({ number }) => number <= past.ground.numbers)
  return { season, heads, unplaced, far, gaps: near.map(({ line, number }) => spotOf(past.ground, line, number)), gapsFar: gaps.size - near.length }
}

/** Whether a plant belongs into a season's picture: in the bed on the day shown, and not gone before the season. */
function stoodIn(past: BedPast, { plant, planted }: PastPlant, season: Season): boolean {
  const day = shownDay(past, season)
  if (planted > day || bedOn(past.farm, plant, day) !== past.bed.id) return false
  return plant.removed === '' || plant.removed >= span(past.farm.calendar, season).from
}

function stoodAs(past: BedPast, { plant, stems, seedling }: PastPlant, season: Season, day: Day, measured: Measured | undefined): Stood {
  const colour = colourIn(plant, season)
  const ofClass = colour === '' ? '' : past.farm.colours.get(colour)?.swatch ?? ''
  const painted = measured ? paintedAs(measured, past.farm, plant, season, colour) : { swatch: ofClass, told: undefined }
  return {
    plant, colour, seedling, ...painted,
    place: placeInBed(past, plant, day)[0],
    stems: stems.get(season) ?? untold,
    flags: flagsOn(plant, day),
    gone: plant.removed !== '' && plant.removed <= day,
  }
}

/** Its numbered place in this bed on a day; none where it is not known or was in another. */
function placeInBed({ farm, bed }: BedPast, plant: Plant, day: Day): Place[] {
  const place = placeOn(farm, plant, day)
  return place?.bed === bed.id && place.number > 0 ? [place] : []
}

/** Where in this bed it stood before it was moved. */
function placesLeft({ bed }: BedPast, { plant }: PastPlant, day: Day): Place[] {
  return plant.stood.filter((stay) => stay.bed === bed.id && stay.until <= day && stay.line > 0 && stay.number > 0)
}

/** The colour class seen in the season, else the latest seen before it, else the plant's own. */
export function colourIn(plant: Plant, season: Season): ColourID | '' {
  const seen = [...plant.colours].filter(([year]) => year <= season).sort(([a], [b]) => b - a)
  return seen[0]?.[1].what ?? plant.colour
}

/** Flags that stood on a day, each kind once. */
export function flagsOn(plant: Plant, day: Day): FlagKind[] {
  const later = plant.flagsCleared.filter(({ clearedAt }) => dayOf(new Date(clearedAt)) > day)
  return [...new Set([...plant.flags, ...later].filter((flag) => flag.day <= day).map(({ kind }) => kind))]
}

/** Heads at their places: those that share one side by side, a seedling at the foot of its plant. */
function placed(past: BedPast, stood: readonly Stood[], day: Day): Pick<Picture, 'heads' | 'unplaced' | 'far'> {
  const { ground } = past
  const heads: Head[] = []
  const feet: Stood[] = []
  const far: Stood[] = []
  for (const sharing of together(stood, ({ place }) => place && keyOf(place)).values()) {
    sharing.forEach((one, i) => {
      if (!one.place) return void feet.push(one)
      if (one.place.number > ground.numbers) return void far.push(one)
      const { x, y } = spotOf(ground, one.place.line, one.place.number)
      const aside = (i - (sharing.length - 1) / 2) * ground.pitch * samePlacePitch
      heads.push({ ...one, at: { x: x + aside, y }, on: one.place, radius: radiusOf(past, one) })
    })
  }
  const standing = new Map(heads.map((head) => [head.plant.id, head]))
  const unplaced: Stood[] = []
  for (const [, sharing] of together(feet, ({ plant }) => plant.beside)) {
    sharing.forEach((one, i) => {
      const foot = footSeen(past, one.plant, standing, day)
      if (foot && foot.on.number > ground.numbers) far.push(one)
      else if (foot) heads.push({ ...one, at: aroundFoot(foot.at, i, ground.pitch), on: foot.on, radius: radiusOf(past, one) })
      else unplaced.push(one)
    })
  }
  return { heads, unplaced, far }
}

function together<T, K>(all: readonly T[], key: (one: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>()
  for (const one of all) {
    const group = groups.get(key(one))
    if (group) group.push(one)
    else groups.set(key(one), [one])
  }
  return groups
}

/** Where a seedling's foot is drawn; undefined of what was moved by then, or came up at no foot of this bed. */
function footSeen(past: BedPast, seedling: Plant, standing: ReadonlyMap<PlantID, Head>, day: Day): Pick<Head, 'at' | 'on'> | undefined {
  const on = seedling.stood.some(({ until }) => until <= day) ? undefined : footOf(past.farm, seedling)
  if (on?.bed !== past.bed.id) return undefined
  const beside = seedling.beside === '' ? undefined : standing.get(seedling.beside)
  return beside && samePlace(beside.on, on) ? beside : { at: spotOf(past.ground, on.line, on.number), on }
}

/** The n-th seedling around a foot: the first between four places, the others each an eighth turn on. */
function aroundFoot({ x, y }: Spot, n: number, pitch: number): Spot {
  const angle = Math.PI / 4 + (n * Math.PI) / 4
  return { x: x + Math.cos(angle) * pitch * besidePitch, y: y + Math.sin(angle) * pitch * besidePitch }
}

function keyOf({ line, number }: Place): string {
  return `${line}/${number}`
}
