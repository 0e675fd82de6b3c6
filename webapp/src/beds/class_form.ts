// What is told of a colour class before it is kept: its name, its measured colour and whence that came, and its limit;
// and what that would change.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'
import { hexOf } from '../colour/shown'
import type { Fact } from '../log/change'
import { limitOf, measuredClass } from '../crop/colour_class'
import { colourFacts, colourLabFacts } from '../crop/facts'
import type { MeasuredColour } from '../crop/measured_colour'
import type { Colour, Farm, Plant, PlantID, Reading } from '../crop/nouns'
import { type BySeason, coloursOfPlant } from './plant_colours'

export interface ClassForm {
  readonly name: string
  readonly lab: Lab | undefined
  /** 'hand', 'plant/id' or 'reading/id'. */
  readonly from: string
  readonly limit: number
}

export const limits = { least: 1, most: 15, step: 0.5 } as const

export function classForm(before: Colour | undefined): ClassForm {
  return { name: before?.name ?? '', lab: before?.lab, from: before?.labFrom || 'hand', limit: limitOf(before ?? { limit: 0 }) }
}

/** What is still lacking before it can be kept. */
export function lackingInClass(farm: Pick<Farm, 'colours'>, form: ClassForm, before: Colour | undefined): 'name' | 'known' | 'colour' | undefined {
  const name = plain(form.name)
  if (name === '') return 'name'
  if ([...farm.colours.values()].some((one) => one.id !== before?.id && one.name.toLowerCase() === name.toLowerCase())) return 'known'
  return form.lab || before ? undefined : 'colour'
}

function plain(name: string): string {
  return name.trim().normalize('NFC')
}

/** Says what differs. A class that was never painted by eye is painted as it was measured. */
export function classFacts(id: Colour['id'], form: ClassForm, before: Colour | undefined): Fact[] {
  const name = plain(form.name)
  const swatch = before?.swatch || (form.lab ? hexOf(form.lab) : '')
  const named = before?.name === name && before.swatch === swatch ? [] : colourFacts({ id, name, swatch })
  const same = sameLab(before?.lab, form.lab) && before !== undefined && limitOf(before) === form.limit && (before.labFrom || 'hand') === form.from
  return same ? named : [...named, ...colourLabFacts(id, form.lab, form.from, form.limit)]
}

function sameLab(one: Lab | undefined, other: Lab | undefined): boolean {
  return one === other || (one !== undefined && other !== undefined && difference(one, other).total < 0.005)
}

export interface Change {
  /** Measured plants that are of the class now, would be, and would lie between it and another. */
  readonly now: number
  readonly then: number
  readonly between: number
  readonly measured: number
}

/** What becomes of the measured plants where the class is told so. */
export function changeBy(farm: Pick<Farm, 'colours'>, id: Colour['id'], form: ClassForm, measured: readonly MeasuredColour[]): Change {
  const classes = [...farm.colours.values()]
  const told: Colour = { id, name: form.name, swatch: '', lab: form.lab, limit: form.limit, labFrom: form.from }
  const after = [...classes.filter((one) => one.id !== id), told]
  const isOf = (all: readonly Colour[], colour: MeasuredColour) => {
    const found = measuredClass(all, colour)
    return found?.sure === true && found.colour === id
  }
  const between = measured.filter((colour) => {
    const found = measuredClass(after, colour)
    return found !== undefined && !found.sure && found.likely.slice(0, 2).some((one) => one.colour === id)
  })
  return {
    now: measured.filter((colour) => isOf(classes, colour)).length, then: measured.filter((colour) => isOf(after, colour)).length,
    between: between.length, measured: measured.length,
  }
}

export interface Beside {
  readonly colour: Colour
  readonly away: number
}

/** Classes so near that plants between them will be of either. */
export function overlapping(farm: Pick<Farm, 'colours'>, id: Colour['id'], { lab, limit }: ClassForm): Beside[] {
  if (!lab) return []
  return [...farm.colours.values()].flatMap((colour) => {
    if (colour.id === id || !colour.lab) return []
    const away = difference(lab, colour.lab).total
    return away < (limit + limitOf(colour)) / 2 ? [{ colour, away }] : []
  }).sort((a, b) => a.away - b.away)
}

export interface Model {
  readonly plant: Plant
  readonly colour: MeasuredColour
  readonly season: number
}

/** Plants of which a class may take its colour, by their newest measured season: those seen in it by eye first. */
export function modelsFor(farm: Farm, colours: ReadonlyMap<PlantID, BySeason>, colour: Colour['id'] | undefined): Model[] {
  const measured = new Set([...colours.keys(), ...farm.readingsOf.keys()])
  const all = [...measured].flatMap((id): Model[] => {
    const plant = farm.plants.get(id)
    const newest = plant && [...coloursOfPlant(farm, colours, id)].sort(([a], [b]) => b - a)[0]
    return plant && newest ? [{ plant, season: newest[0], colour: newest[1] }] : []
  })
  const apart = ({ plant }: Model) => Number(plant.colour !== colour)
  return all.sort((a, b) => apart(a) - apart(b) || (a.plant.code < b.plant.code ? -1 : 1))
}

/** The most photos that are offered. */
const mostPhotos = 80

/** Photos of which a class may take its colour, the newest first: of full bloom, and not in sun. */
export function photosFor(farm: Farm, colour: Colour['id'] | undefined): Reading[] {
  const fits = ({ stage, light, plant }: Reading) => stage === 'full' && light !== 'sun' && farm.plants.has(plant)
  const apart = ({ plant }: Reading) => Number(farm.plants.get(plant)?.colour !== colour)
  const all = [...farm.readings.values()].filter(fits)
  return all.sort((a, b) => apart(a) - apart(b) || (a.date < b.date ? 1 : a.date > b.date ? -1 : a.id < b.id ? -1 : 1)).slice(0, mostPhotos)
}
