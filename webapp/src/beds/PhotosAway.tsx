// The photos that were taken away from a plant: each can be put back.

import { useEffect, useRef, useState } from 'preact/hooks'
import { dayOf } from '../crop/day'
import type { PhotoHash, Plant, PlantPhoto } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { photoFailure } from '../ui/photo_failure'
import { today } from '../ui/today'
import { usePicture } from './use_picture'

interface PhotosAwayProps {
  readonly plant: Plant
  /** How many were taken away just now: it is shown where they went. */
  readonly tookAway: number
}

export function PhotosAway({ plant, tookAway }: PhotosAwayProps) {
  const photos = usePhotos()
  const [open, setOpen] = useState(false)
  const [problem, setProblem] = useState('')
  const summary = useRef<HTMLElement>(null)
  useEffect(() => {
    if (tookAway === 0) return
    setOpen(true)
    summary.current?.focus()
  }, [tookAway])
  const putBack = (hash: PhotoHash) =>
    photos.putBack(plant.id, hash).then(
      () => {
        announce(t('photos.back.done'))
        summary.current?.focus() // the button is gone
      },
      (reason: unknown) => setProblem(photoFailure(reason)),
    )
  return (
    <details open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary ref={summary}>{t('photos.away.list', { n: plant.photosAway.length })}</summary>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <ul class="rows">
        {open && plant.photosAway.map((photo) => <OneAway key={photo.hash} photo={photo} onBack={() => void putBack(photo.hash)} />)}
      </ul>
    </details>
  )
}

function OneAway({ photo, onBack }: { readonly photo: PlantPhoto; readonly onBack: () => void }) {
  const { url } = usePicture(photo.hash, 'small')
  return (
    <li class="photo-away">
      {url === undefined ? <span class="photo-blank"><Icon name="picture" /></span> : <img src={url} alt="" />}
      <span class="small">{t('photos.away.day', { day: dayName(dayOf(new Date(photo.at)), today.value) })}</span>
      <button type="button" class="btn" onClick={onBack}>{t('photos.back')}</button>
    </li>
  )
}
