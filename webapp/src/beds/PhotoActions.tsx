// What may be done with the photo that is shown: taking it away from its plant, and for owners deleting it.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { PlantID, PlantPhoto } from '../crop/nouns'
import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import type { OwnPhoto } from '../photos/photo_db'
import { announce } from '../ui/announce'
import { photoFailure } from '../ui/photo_failure'
import { DeletePhoto } from './DeletePhoto'

interface PhotoActionsProps {
  readonly plant: PlantID
  readonly photo: PlantPhoto
  /** An owner deleted the picture. */
  readonly removed: boolean
  readonly mayTakeAway: boolean
  readonly mayDelete: boolean
  readonly onTakenAway: () => void
  readonly onDeleted: () => void
}

export function PhotoActions({ plant, photo, removed, mayTakeAway, mayDelete, onTakenAway, onDeleted }: PhotoActionsProps) {
  const { asking, ask, cancel, button } = useAsking()
  if (mayDelete && !removed && asking) return <DeletePhoto hash={photo.hash} onCancel={cancel} onDeleted={onDeleted} />
  return (
    <>
      {mayTakeAway && <TakeAway plant={plant} photo={photo} removed={removed} onTakenAway={onTakenAway} />}
      {mayDelete && !removed && <button ref={button} type="button" class="btn" onClick={ask}>{t('photos.delete')}</button>}
    </>
  )
}

/** Whether it is asked once more. The button that asks has the focus again when that is cancelled. */
function useAsking() {
  const [asking, setAsking] = useState(false)
  const cancelled = useRef(false)
  const button = useRef<HTMLButtonElement>(null)
  useEffect(() => {
    if (!asking && cancelled.current) button.current?.focus()
    cancelled.current = false
  }, [asking])
  const cancel = () => {
    cancelled.current = true
    setAsking(false)
  }
  return { asking, ask: () => setAsking(true), cancel, button }
}

type TakeAwayProps = Pick<PhotoActionsProps, 'plant' | 'photo' | 'removed' | 'onTakenAway'>

function TakeAway({ plant, photo, removed, onTakenAway }: TakeAwayProps) {
  const photos = usePhotos()
  const [problem, setProblem] = useState('')
  const takeAway = () =>
    photos.takeAway(plant, photo.hash).then(
      () => {
        announce(t('photos.away.done'))
        onTakenAway()
      },
      (reason: unknown) => setProblem(photoFailure(reason)),
    )
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <p class="small">{t(awayKey(removed, photos.own.value.get(photo.hash)))}</p>
      <button type="button" class="btn" onClick={() => void takeAway()}>{t('photos.away')}</button>
    </>
  )
}

function awayKey(removed: boolean, own: OwnPhoto | undefined) {
  if (removed) return 'photos.away.what.removed'
  return own?.state === 'waiting' ? 'photos.away.what.waiting' : 'photos.away.what'
}
