// How plants, places and failures are put into words.

import { t } from '../messages/messages'
import type { Colour, Farm, Plant } from '../crop/nouns'
import { RecordError } from '../sync/notebook'
import { ChangedSince, OverTheMost } from './taps'

export function placeName(plant: Plant): string {
  return plant.line === 0 ? t('place.unknown') : t('place', { line: plant.line, number: plant.number })
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
  if (reason instanceof ChangedSince) return t('failure.changed')
  if (reason instanceof RecordError && reason.reason === 'full') return t('failure.full')
  if (reason instanceof RecordError && reason.reason === 'closed') return t('failure.closed')
  return t('failure.invalid')
}
