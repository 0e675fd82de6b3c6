// Saves to files what the shed does not hold: what was recorded in one, photos in another. They are apart
// since photos may be hundreds of megabytes, and a phone that has no room for those must still save its counts.

import { useState } from 'preact/hooks'
import { bytesName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import type { Amount, SavedPhotos } from '../photos/photos'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { download } from './download'
import { Icon } from './Icon'
import { today } from './today'

/** What is on this device alone. */
export interface Unsent {
  readonly entries: number
  readonly photos: Amount
}

export function useUnsent(notebook: Notebook): Unsent {
  return { entries: unsentOf(notebook.sync.value), photos: usePhotos().onlyHere.value }
}

/** Entries of which the file would hold the only copy beside this device's. */
export function unsentOf({ pending, sent, notKept }: Pick<SyncStatus, 'pending' | 'sent' | 'notKept'>): number {
  return pending + sent + notKept
}

export type Saved = 'entries' | 'photos'

interface SaveUnsentProps {
  readonly notebook: Notebook
  readonly onSaved?: (what: Saved) => void
}

export function SaveUnsent({ notebook, onSaved }: SaveUnsentProps) {
  const { entries, photos } = useUnsent(notebook)
  return (
    <>
      {entries > 0 && <SaveEntries notebook={notebook} onSaved={() => onSaved?.('entries')} />}
      {photos.count > 0 && <SavePhotos onSaved={() => onSaved?.('photos')} />}
    </>
  )
}

export function SaveEntries({ notebook, onSaved }: { readonly notebook: Notebook; readonly onSaved?: () => void }) {
  const [problem, setProblem] = useState(false)
  const save = async () => {
    try {
      const text = await notebook.unsentFile()
      download(new Blob([text], { type: 'application/jsonl' }), `corymb-${today.value}.jsonl`)
      setProblem(false)
      onSaved?.()
    } catch (reason) {
      console.error('saving what is unsent', reason)
      setProblem(true)
    }
  }
  return (
    <>
      <button type="button" class="btn" onClick={() => void save()}><Icon name="save" />{t('sync.save')}</button>
      {problem && <p class="note stop" role="alert">{t('sync.save.failed')}</p>}
    </>
  )
}

export function SavePhotos({ onSaved }: { readonly onSaved?: () => void }) {
  const photos = usePhotos()
  const [saved, setSaved] = useState<SavedPhotos | 'saving' | 'failed' | undefined>(undefined)
  const { count, bytes } = photos.onlyHere.value
  const save = async () => {
    if (saved === 'saving') return
    setSaved('saving')
    try {
      const made = await photos.onlyHereFile()
      download(made.file, `corymb-photos-${today.value}.zip`)
      setSaved(made)
      onSaved?.()
    } catch (reason) {
      console.error('saving photos', reason)
      setSaved('failed')
    }
  }
  return (
    <>
      <button type="button" class="btn" aria-disabled={saved === 'saving'} onClick={() => void save()}>
        <Icon name="save" />{t('photos.save', { n: count, size: bytesName(bytes) })}
      </button>
      <div role="status">
        {saved === 'saving' && <p class="small">{t('photos.saving')}</p>}
        {typeof saved === 'object' && <p class="small">{t('photos.saved', { n: saved.held })}</p>}
      </div>
      {typeof saved === 'object' && saved.lost > 0 && <p class="note stop" role="alert">{t('photos.saved.lost', { n: saved.lost })}</p>}
      {saved === 'failed' && <p class="note stop" role="alert">{t('photos.save.failed')}</p>}
    </>
  )
}
