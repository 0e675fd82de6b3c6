// How plants, places and failures are put into words.

import { t } from '../messages/messages'
import type { Colour, Farm, Place, Plant, PlantID } from '../crop/nouns'
import { footLeft, standsBeside } from '../crop/seedlings'
import { RecordError } from '../sync/notebook'
import { ChangedSince, NoCellYet, OverTheMost } from './taps'

export function placeName(plant: Pick<Plant, 'line' | 'number'>): string {
  return plant.line === 0 ? t('place.unknown') : t('place', { line: plant.line, number: plant.number })
}

/** The same, and of a seedling without a place at whose foot it stands, or who stood there when it came up. */
export function whereStands(farm: Farm, plant: Plant): string {
  const foot = standsBeside(plant)
  if (foot === '') return placeName(plant)
  const code = codeOf(farm, foot)
  const left = footLeft(farm, plant)
  if (!left) return t('place.beside', { code })
  return left.line === 0 ? t('place.stood.somewhere', { code }) : t('place.stood', { place: placeName(left), code })
}

/** A plant's code, also where it was withdrawn; of one that is not known here, its id. */
export function codeOf(farm: Farm, id: PlantID): string {
  return (farm.plants.get(id) ?? farm.withdrawn.plants.get(id))?.code ?? id
}

/** A place of the farm: "Elder, line 2, 14". */
export function placeWritten(farm: Farm, place: Place): string {
  const bed = farm.beds.get(place.bed)?.name ?? t('bed.unknown')
  return place.line === 0 ? t('place.somewhere', { bed }) : t('place.in', { bed, place: t('place', { line: place.line, number: place.number }) })
}

export function colourOf(farm: Farm, plant: Plant): Colour | undefined {
  return plant.colour === '' ? undefined : farm.colours.get(plant.colour)
}

export function swatchOf(farm: Farm, plant: Plant): string {
  return colourOf(farm, plant)?.swatch ?? ''
}

export function colourName(farm: Farm, plant: Plant): string {
  return colourOf(farm, plant)?.name ?? t('colour.unknown')
}

/** What happened, what is safe, what to do, for a record that was not kept. */
export function failureText(reason: unknown): string {
  if (reason instanceof OverTheMost) return t('failure.most', { most: reason.most })
  if (reason instanceof NoCellYet) return t('failure.no_cell')
  if (reason instanceof ChangedSince) return t('failure.changed')
  if (reason instanceof RecordError && reason.reason === 'full') return t('failure.full')
  if (reason instanceof RecordError && reason.reason === 'closed') return t('failure.closed')
  return t('failure.invalid')
}
