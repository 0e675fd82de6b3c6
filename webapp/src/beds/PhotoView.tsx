// One photo as large as the screen. Escape, the button and going back close it.

import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import { dayOf } from '../crop/day'
import type { Plant, PlantPhoto } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { announce } from '../ui/announce'
import { today } from '../ui/today'
import { PhotoActions } from './PhotoActions'
import { stateText } from './photo_words'
import { usePicture } from './use_picture'

interface PhotoViewProps {
  readonly plant: Plant
  readonly photo: PlantPhoto
  readonly mayTakeAway: boolean
  readonly mayDelete: boolean
  readonly onTakenAway: () => void
  readonly onClose: () => void
}

export function PhotoView({ plant, photo, mayTakeAway, mayDelete, onTakenAway, onClose }: PhotoViewProps) {
  const photos = usePhotos()
  const dialog = useDialog()
  const leave = useWayBack(onClose)
  const own = photos.own.value.get(photo.hash)
  const small = usePicture(photo.hash, 'small')
  const full = usePicture(photo.hash, 'full')
  const day = dayName(dayOf(new Date(photo.at)), today.value)
  const name = t('photos.alt', { plant: plant.code, day })
  const url = full.url ?? small.url
  const state = stateText(own, small.kind)
  const removed = small.kind === 'removed'
  const takenAway = () => {
    leave()
    onTakenAway()
  }
  const deleted = () => {
    announce(t('photos.delete.done'))
    leave()
  }
  return (
    <dialog ref={dialog} class="photo-view" aria-label={name} onClose={leave}>
      <div class="photo-head">
        <p><b>{plant.code}</b> <span class="small">{day}</span></p>
        <button type="button" class="btn" onClick={leave}>{t('photos.close')}</button>
      </div>
      {url === undefined ? <p class="photo-blank">{state}</p> : <img src={url} alt={name} />}
      <div class="photo-foot">
        {url !== undefined && state !== '' && <p class="photo-state">{state}</p>}
        {own && own.refusal !== '' && <p class="small">{t('photos.state.refused.do')}</p>}
        {(small.url !== undefined || removed) && full.kind !== 'here' && <p class="small" role="status">{t(full.kind === 'coming' ? 'photos.view.coming' : `photos.view.${full.kind}`)}</p>}
        <PhotoActions
          plant={plant.id} photo={photo} removed={removed} mayTakeAway={mayTakeAway} mayDelete={mayDelete} onTakenAway={takenAway} onDeleted={deleted}
        />
      </div>
    </dialog>
  )
}

/** Shows it above everything else; the browser keeps the focus in it. */
function useDialog() {
  const dialog = useRef<HTMLDialogElement>(null)
  useLayoutEffect(() => {
    const shown = dialog.current
    shown?.showModal()
    return () => shown?.close()
  }, [])
  return dialog
}

/**
 * Puts a step into the browser's history, so that going back closes what is open. Gives the way to close
 * it, which takes that step: it is closed once it is taken, or the next to open would be taken for it.
 */
function useWayBack(onClose: () => void): () => void {
  const leaving = useRef(false)
  const leave = () => {
    if (leaving.current) return
    leaving.current = true
    if (isStep(history.state)) history.back()
    else onClose()
  }
  useEffect(() => {
    history.pushState({ [step]: true }, '')
    const back = () => {
      leaving.current = true
      onClose()
    }
    addEventListener('popstate', back)
    return () => {
      removeEventListener('popstate', back)
      leave() // the photo was taken away, here or on another phone
      onClose()
    }
  }, [])
  return leave
}

const step = 'photo'

function isStep(state: unknown): boolean {
  return typeof state === 'object' && state !== null && step in state
}
