// Saves to a file what the shed does not hold.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { Icon } from './Icon'
import { today } from './today'

interface SaveUnsentProps {
  readonly notebook: Notebook
  readonly onSaved?: () => void
}

export function SaveUnsent({ notebook, onSaved }: SaveUnsentProps) {
  const [problem, setProblem] = useState(false)
  const save = async () => {
    try {
      download(await notebook.unsentFile(), `corymb-${today.value}.jsonl`)
      setProblem(false)
      onSaved?.()
    } catch {
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

/** Changes of which the file would hold the only copy beside this device's. */
export function unsentOf({ pending, sent, refused }: SyncStatus): number {
  return pending + sent + refused.length
}

function download(text: string, name: string): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/jsonl' }))
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000)
}
