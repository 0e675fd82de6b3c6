// Asks once more before a picture is deleted for good, and says what is then gone and what is not.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { PhotoHash } from '../crop/nouns'
import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'

interface DeletePhotoProps {
  readonly hash: PhotoHash
  readonly onCancel: () => void
  readonly onDeleted: () => void
}

export function DeletePhoto({ hash, onCancel, onDeleted }: DeletePhotoProps) {
  const photos = usePhotos()
  const cancel = useRef<HTMLButtonElement>(null)
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const inReach = photos.inReach.value
  const onlyHere = photos.own.value.get(hash)?.state === 'waiting'
  useEffect(() => cancel.current?.focus(), []) // the button that was tapped is gone
  const go = async () => {
    if (busy) return
    setBusy(true)
    const removal = await photos.remove(hash)
    setBusy(false)
    if (removal === 'removed') onDeleted()
    else setProblem(t(`photos.delete.${removal}`))
  }
  return (
    <div class="note warn photo-delete">
      <p><b>{t('photos.delete.sure')}</b> {t(onlyHere ? 'photos.delete.what.waiting' : 'photos.delete.what')}</p>
      <p>{t('photos.delete.stays')}</p>
      {!inReach && <p class="note stop" role="status">{t('photos.delete.no_reach')}</p>}
      {inReach && problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button ref={cancel} type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
        {inReach && <button type="button" class="btn" aria-disabled={busy} onClick={() => void go()}>{t('photos.delete.yes')}</button>}
      </div>
    </div>
  )
}
