// The photos of a plant: taking them, seeing them, taking them away.

import { useEffect, useRef, useState } from 'preact/hooks'
import { dayOf } from '../crop/day'
import type { PhotoHash, Plant, PlantPhoto } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { Icon } from '../ui/Icon'
import { today } from '../ui/today'
import { AddPhotos } from './AddPhotos'
import { PhotosAway } from './PhotosAway'
import { PhotoView } from './PhotoView'
import { stateText } from './photo_words'
import './photos.css'
import { usePicture } from './use_picture'

interface PlantPhotosProps {
  readonly plant: Plant
  readonly mayAdd: boolean
  readonly mayDelete: boolean
}

export function PlantPhotos({ plant, mayAdd, mayDelete }: PlantPhotosProps) {
  const [open, setOpen] = useState<PhotoHash | undefined>(undefined)
  /** How many were taken away here just now. */
  const [tookAway, setTookAway] = useState(0)
  const shown = plant.photos.find(({ hash }) => hash === open)
  return (
    <section class="photos">
      <h2>{t('photos.title')}</h2>
      {mayAdd && <AddPhotos plant={plant.id} />}
      {plant.photos.length === 0 && <p class="small">{t('photos.none')} {mayAdd && t('photos.position')}</p>}
      <ul class="photo-grid">
        {plant.photos.map((photo) => (
          <PhotoTile key={photo.hash} plant={plant} photo={photo} open={photo.hash === open} onOpen={() => setOpen(photo.hash)} />
        ))}
      </ul>
      {mayAdd && plant.photosAway.length > 0 && <PhotosAway plant={plant} tookAway={tookAway} />}
      {shown && (
        <PhotoView
          key={shown.hash} plant={plant} photo={shown} mayTakeAway={mayAdd} mayDelete={mayDelete}
          onTakenAway={() => setTookAway(tookAway + 1)} onClose={() => setOpen(undefined)}
        />
      )}
    </section>
  )
}

interface PhotoTileProps {
  readonly plant: Plant
  readonly photo: PlantPhoto
  /** It is shown large. */
  readonly open: boolean
  readonly onOpen: () => void
}

function PhotoTile({ plant, photo, open, onOpen }: PhotoTileProps) {
  const own = usePhotos().own.value.get(photo.hash)
  const { kind, url } = usePicture(photo.hash, 'small')
  const day = dayName(dayOf(new Date(photo.at)), today.value)
  const name = t('photos.alt', { plant: plant.code, day })
  const state = stateText(own, kind)
  const button = useFocusBack(open)
  return (
    <li>
      <button ref={button} type="button" class="photo" onClick={onOpen}>
        {url === undefined
          ? <span class="photo-blank"><Icon name="picture" /><span class="unseen">{name}</span></span>
          : <img src={url} alt={name} />}
        <span class="small" aria-hidden="true">{day}</span>
        {state !== '' && <span class="photo-state">{state}</span>}
      </button>
    </li>
  )
}

/** A browser gives the focus back to what had it before, which is not always the button that was tapped. */
function useFocusBack(open: boolean) {
  const button = useRef<HTMLButtonElement>(null)
  const wasOpen = useRef(open)
  useEffect(() => {
    if (wasOpen.current && !open) button.current?.focus()
    wasOpen.current = open
  }, [open])
  return button
}
