// Takes a photo with the camera, or pictures that are on the device already.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { photoFailure } from './photo_words'

export function AddPhotos({ plant }: { readonly plant: PlantID }) {
  const photos = usePhotos()
  const [storing, setStoring] = useState(false)
  const busy = useRef(false)
  const problems = new Set((photos.notTaken.value.get(plant) ?? []).map(photoFailure))
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
  return (
    <>
      <div class="buttons">
        <label class="btn tall with-camera">
          <Icon name="camera" />{t('photos.take')}
          <input type="file" accept="image/*" capture="environment" class="unseen" disabled={storing} onChange={(event) => void add(event.currentTarget)} />
        </label>
        <label class="btn tall">
          <Icon name="picture" />{t('photos.choose')}
          <input type="file" accept="image/*" multiple class="unseen" disabled={storing} onChange={(event) => void add(event.currentTarget)} />
        </label>
      </div>
      {storing && <p class="small" role="status">{t('photos.storing')}</p>}
      {[...problems].map((problem) => <p key={problem} class="note stop" role="alert">{problem}</p>)}
    </>
  )
}

function announceOutcome(outcomes: readonly string[]): void {
  const added = outcomes.filter((outcome) => outcome === 'added').length
  if (added > 0) announce(t('photos.stored', { n: added }))
  else if (outcomes.length > 0) announce(t('photos.there'))
}
