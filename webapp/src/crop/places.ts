// Where plants stand. Moving a plant takes the element of its former place out of a set and puts
// another in, so that two moves that did not see each other leave two. Mirrors internal/farm/place.go.

import { int, members } from '../log/read'
import type { Entity } from '../log/state'
import { parseDay } from './day'
import type { BedID, Day, Farm, Place, PlaceSince, Plant, Stay } from './nouns'

/** The bed that a plant stands in; undefined where its planting has not come here yet. */
export function bedOf(farm: Pick<Farm, 'plantings'>, plant: Pick<Plant, 'bed' | 'planting'>): BedID | undefined {
  return plant.bed === '' ? farm.plantings.get(plant.planting)?.bed : plant.bed
}

/** The bed that a plant stood in on a day. */
export function bedOn(farm: Pick<Farm, 'plantings'>, plant: Plant, day: Day): BedID | undefined {
  return plant.stood.find((stay) => day < stay.until)?.bed ?? bedOf(farm, plant)
}

/** Its numbered position, or undefined where none is known. */
export function placeOf(farm: Pick<Farm, 'plantings'>, plant: Plant): Place | undefined {
  const bed = bedOf(farm, plant)
  return bed === undefined || plant.line === 0 ? undefined : { bed, line: plant.line, number: plant.number }
}

/** The numbered position that it had on a day, or undefined where none is known. */
export function placeOn(farm: Pick<Farm, 'plantings'>, plant: Plant, day: Day): Place | undefined {
  const stay = plant.stood.find(({ until }) => day < until)
  if (!stay) return placeOf(farm, plant)
  return stay.line === 0 ? undefined : { bed: stay.bed, line: stay.line, number: stay.number }
}

/** The numbered positions that nobody else may be set on: where moves missed each other both, until somebody has looked. */
export function placesHeld(farm: Pick<Farm, 'plantings'>, plant: Plant): Place[] {
  if (plant.places.length > 1) return plant.places.filter(({ line }) => line > 0)
  const place = placeOf(farm, plant)
  return place ? [place] : []
}

/** Names a place, to look plants up by. */
export function placeKey({ bed, line, number }: Place): string {
  return `${line}/${number}/${bed}`
}

export function samePlace(a: Place, b: Place): boolean {
  return placeKey(a) === placeKey(b)
}

/** Writes a place as an element of the set `places`. */
export function formatPlace(place: PlaceSince): string {
  return `${place.since}/${place.move}/${placeKey(place)}`
}

/** Reads an element of the set `places`; undefined where it is none. */
export function parsePlace(text: string): PlaceSince | undefined {
  const [, since = '', move = '', line = '', number = '', bed = ''] = /^([^/]*)\/([^/]+)\/(\d+)\/(\d+)\/(.+)$/s.exec(text) ?? []
  const day = parseDay(since)
  if (day === undefined) return undefined
  const place = { since: day, move, line: Number(line), number: Number(number), bed: bed as BedID }
  return formatPlace(place) === text ? place : undefined
}

/** Writes a former place as an element of the set `stood`: the one that a move left. */
export function formatStay(stay: Stay, move: string): string {
  return `${stay.from}/${formatPlace({ ...stay, since: stay.until, move })}`
}

function parseStay(text: string): Stay | undefined {
  const slash = text.indexOf('/')
  const place = parsePlace(text.slice(slash + 1))
  const from = text.slice(0, slash)
  if (!place || (from !== '' && parseDay(from) === undefined)) return undefined
  const { since: until, bed, line, number } = place
  return { from: from as Day | '', until, bed, line, number }
}

/** Where a plant stands by its own changes, and where it stood. */
export function readPlaces(e: Entity): Pick<Plant, 'bed' | 'line' | 'number' | 'places' | 'stood'> {
  const planted = { bed: '' as const, line: int(e, 'line'), number: int(e, 'number') }
  const places = known(members(e, 'places').map(parsePlace)).reverse() // sorted by their day
  const stood = known(members(e, 'stood').map(parseStay)).sort((a, b) => (a.until < b.until ? -1 : a.until > b.until ? 1 : 0))
  const latest = places[0]
  const stands = latest ? { bed: latest.bed, line: latest.line, number: latest.number } : planted
  return { ...stands, places: places.length > 0 ? places : noPlaces, stood: stood.length > 0 ? stood : noStays }
}

/** Most plants never move. */
const noPlaces: readonly PlaceSince[] = []
const noStays: readonly Stay[] = []

function known<T>(all: readonly (T | undefined)[]): T[] {
  return all.filter((one) => one !== undefined)
}
