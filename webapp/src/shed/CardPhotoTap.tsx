// The photo in which the patch of known colour is tapped.

import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'

interface CardPhotoTapProps {
  readonly file: Blob
  /** Shares of the picture's width and height. */
  readonly onTap: (at: { readonly x: number; readonly y: number }) => void
  readonly onLeave: () => void
}

export function CardPhotoTap({ file, onTap, onLeave }: CardPhotoTapProps) {
  const [url, setUrl] = useState<string | undefined>(undefined)
  const [shown, setShown] = useState(true)
  useEffect(() => {
    const made = URL.createObjectURL(file)
    setUrl(made)
    return () => URL.revokeObjectURL(made)
  }, [file])
  const tap = ({ currentTarget, clientX, clientY }: MouseEvent) => {
    const box = (currentTarget as Element).getBoundingClientRect()
    onTap({ x: (clientX - box.left) / box.width, y: (clientY - box.top) / box.height })
  }
  return (
    <section class="card">
      <h2>{t('cards.photo.tap')}</h2>
      {shown ? <p class="small">{t('cards.photo.tap.how')}</p> : <p class="note stop" role="alert">{t('cards.photo.failed.unreadable')}</p>}
      {url && shown && <img class="card-photo-tap" src={url} alt={t('cards.photo.tap')} onClick={tap} onError={() => setShown(false)} />}
      <button type="button" class="btn" onClick={onLeave}>{t('cards.photo.leave')}</button>
    </section>
  )
}
