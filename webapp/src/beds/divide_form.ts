// What is told of a division before it is recorded, and what is still lacking.

import { v4 as newUUID } from 'uuid'
import { together } from '../crop/deed'
import { decisionOf, nowDone } from '../crop/intents'
import { type Child, divide, mayDivide, type Parent } from '../crop/lineage'
import type { Day, Farm, Place, Plant, PlantID, Season } from '../crop/nouns'
import { placeKey, placesHeld, samePlace } from '../crop/places'
import { firstSeasonOf } from '../crop/planting_out'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { dayFits } from './DayField'
import { groundFor } from './ground'
import { bedToBegin, type Picked, pickedIn, placesOf } from './place_picker'
import { codesFor, Hindered, type Planned } from './use_deed'

export interface DivideForm {
  readonly children: number
  readonly day: Day
  /** undefined is as proposed. */
  readonly season: Season | undefined
  readonly picked: Picked
  readonly becomes: Parent['becomes']
  /** Where the plant itself goes, where it is moved. */
  readonly goes: Picked
}

export const fewest = 2
export const most = 12

export function newDivideForm(farm: Farm, plant: Plant, day: Day): DivideForm {
  const picked = pickedIn(bedToBegin(farm, plant))
  return { children: plannedInto(farm, plant, day) ?? 3, day, season: undefined, picked, becomes: 'taken_out', goes: picked }
}

/** Into how many it is to be divided, where that was decided. */
function plannedInto(farm: Farm, { id }: Plant, day: Day): number | undefined {
  const decided = decisionOf(farm, id, seasonOf(farm.calendar, day))
  return decided?.do === 'divide' ? Math.min(most, Math.max(fewest, decided.into)) : undefined
}

export function seasonTold(farm: Farm, { season, day }: DivideForm): Season {
  return season ?? firstSeasonOf(farm.calendar, day)
}

/** The first day on which a plant can be divided so: one that is moved with it has not been moved later. */
export function divisibleFrom(farm: Farm, plant: Plant, becomes: Parent['becomes']): Day | '' {
  const movedLast = becomes === 'moved' ? plant.places[0]?.since : undefined
  return movedLast ?? farm.plantings.get(plant.planting)?.planted ?? ''
}

/** What is to be put right first, where it can be divided from a day on; undefined where nothing is. */
export function lacking(farm: Farm, plant: PlantID, form: DivideForm, from: Day | ''): 'day' | 'places' | 'goes' | 'same_place' | 'taken' | undefined {
  const places = placesOf(form.picked, form.children)
  if (!dayFits(form.day, from)) return 'day'
  if (!places) return 'places'
  const filled = filledBy(form, places)
  if (form.becomes === 'moved') {
    const goes = filled[places.length]
    if (!goes) return 'goes'
    if (places.some((place) => place.line > 0 && samePlace(place, goes))) return 'same_place'
  }
  return areTaken(farm, filled, freed(form, plant)) ? 'taken' : undefined
}

/** The places that a division fills: those of its children, and the one that the plant itself goes to. */
function filledBy(form: DivideForm, places: readonly Place[]): readonly Place[] {
  return form.becomes === 'moved' ? [...places, ...placesOf(form.goes, 1) ?? []] : places
}

/** Whose place counts as free: the plant's own, unless it keeps it. */
function freed({ becomes }: DivideForm, plant: PlantID): PlantID | '' {
  return becomes === 'kept' ? '' : plant
}

/** Divides the plant as the form tells, with codes of this device. */
export function planDivision(notebook: Notebook, farm: Farm, id: PlantID, form: DivideForm): Planned & { readonly children: readonly Child[] } {
  const plant = farm.plants.get(id)
  const places = placesOf(form.picked, form.children)
  const { bed } = form.picked
  if (!plant || !places || bed === '' || mayDivide(farm, plant) !== 'yes') throw new Hindered(t('lineage.changed'))
  if (areTaken(farm, filledBy(form, places), freed(form, id))) throw new Hindered(t('lineage.place_taken'))
  const { codes, alongside } = codesFor(notebook, farm, form.children)
  const children = places.map((place, i): Child => ({ id: newUUID() as PlantID, code: codes[i] ?? '', place }))
  const ground = groundFor(farm, plant, 'division', bed, form.day, seasonTold(farm, form))
  const decided = nowDone(farm, id, seasonOf(farm.calendar, form.day), ['divide'], form.day, notebook.person.peek())
  return {
    deed: together(divide(farm, plant, children, ground, parentAs(form)), decided), alongside, children,
    said: t('lineage.divided', { n: children.length, code: plant.code }),
  }
}

function parentAs({ becomes, goes }: DivideForm): Parent {
  const [to] = placesOf(goes, 1) ?? []
  if (becomes !== 'moved') return { becomes }
  if (!to) throw new Hindered(t('lineage.lacking.goes'))
  return { becomes, to, named: moveName() }
}

/** A name that no other move has. */
export function moveName(): string {
  return newUUID().slice(0, 8)
}

/** Somebody may have planted there, on another phone, since it was chosen. */
export function isTaken(farm: Farm, place: Place, but: PlantID | ''): boolean {
  return areTaken(farm, [place], but)
}

/** Whether a plant stands in any of the places, by one look at every plant. */
function areTaken(farm: Farm, places: readonly Place[], but: PlantID | ''): boolean {
  const wanted = new Set(places.filter(({ line }) => line > 0).map(placeKey))
  return wanted.size > 0 && [...farm.plants.values()].some((plant) =>
    plant.id !== but && plant.removed === '' && placesHeld(farm, plant).some((held) => wanted.has(placeKey(held))))
}
