// The colours of the crop that a page is about: asked for while the link is live, and of when they are.

import { useEffect, useMemo } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { route } from '../ui/route'
import { today } from '../ui/today'
import { cropShown } from './ages'
import { readAgesSettings } from './ages_settings'
import { readColourSettings } from './colour_settings'
import { answer, fetching, readColours, shed, type SpeciesColour } from './colours'
import { useAskedAnew } from '../ui/use_asked_anew'

/** In an address a crop without a name of its species. */
const nameless = '-'

export function cropInRoute(species: string): string {
  return species === '' ? nameless : species
}

export interface ColoursShown {
  readonly species: readonly SpeciesColour[]
  readonly shown: SpeciesColour | undefined
}

export function useColours(): ColoursShown {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  useEffect(() => {
    readAgesSettings(notebook)
    readColourSettings(notebook)
    readColours(notebook)
  }, [])
  const ground = useMemo(() => groundOf(farm), [farm.groundVersion])
  useAskedAnew({
    shed, said: `${farm.readingsVersion} ${ground}`, outdated: answer.value?.asof !== today.value || fetching.value === 'failed', onOpening: true,
  })
  const species = answer.value?.species ?? []
  const asked = route.value[2]
  return { species, shown: cropShown(species, asked === nameless ? '' : asked) ?? undefined }
}

/** What the shed's answer rests on beside readings, in a text that changes with it. */
function groundOf({ cards, plants, plantings, calendar }: Pick<Farm, 'cards' | 'plants' | 'plantings' | 'calendar'>): string {
  const references = [...plants.values()].filter(({ reference }) => reference).map(({ id }) => id)
  return JSON.stringify([[...cards.values()].map(({ id, retired }) => [id, retired]), references, plantings.size, calendar])
}

/** The day stays while the shed is asked: what is on the screen is read meanwhile. */
export function coloursWhence(): string {
  if (!answer.value) return ''
  const day = dayName(answer.value.asof, today.value)
  return fetching.value === 'yes' ? t('ages.asof.asking', { day }) : t('ages.asof', { day })
}

/** Why there is no crop to show. */
export function coloursLacking(): string {
  if (fetching.value === 'yes') return t('colours.fetching')
  return answer.value ? t('colours.none') : t('colours.offline')
}
