// Taking pictures in for a plant: wherever a camera button stands, they are stored one by one and what
// became of them is told.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { announce } from './announce'

export interface TakingPhotos {
  readonly storing: boolean
  /** Why pictures of this plant were not taken in. */
  readonly notTaken: readonly unknown[]
  /** Takes in what a file input was given, and empties it. */
  readonly add: (input: HTMLInputElement) => Promise<void>
}

export function useTakePhotos(plant: PlantID): TakingPhotos {
  const photos = usePhotos()
  const [storing, setStoring] = useState(false)
  const busy = useRef(false)
  // Who goes on to the next plant while a picture is stored has not seen what becomes of it.
  useEffect(() => () => { if (!busy.current) photos.seen(plant) }, [plant])
  const add = async (input: HTMLInputElement) => {
    const picked = [...(input.files ?? [])]
    input.value = '' // the same picture can be chosen again
    if (picked.length === 0) return
    photos.seen(plant)
    busy.current = true
    setStoring(true)
    const outcomes: string[] = []
    // One after the other: decoded, each takes much of a phone's memory.
    for (const file of picked) {
      await photos.add(plant, file).then((outcome) => outcomes.push(outcome), (reason: unknown) => {
        console.error('taking in a photo', reason)
      })
    }
    busy.current = false
    setStoring(false)
    announceOutcome(outcomes)
  }
  return { storing, notTaken: photos.notTaken.value.get(plant) ?? [], add }
}

function announceOutcome(outcomes: readonly string[]): void {
  const added = outcomes.filter((outcome) => outcome === 'added').length
  if (added > 0) announce(t('photos.stored', { n: added }))
  else if (outcomes.length > 0) announce(t('photos.there'))
}
