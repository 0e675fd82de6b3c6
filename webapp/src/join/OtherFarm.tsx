// The code was of another farm than the one this device holds. Nothing of that is dropped: its records
// stay on the device, and what its shed does not have goes to a file first.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import type { Entered, Notebook } from '../sync/notebook'
import { go } from '../ui/route'
import { type Saved, SaveUnsent, useUnsent } from '../ui/SaveUnsent'
import { Welcome } from '../ui/Welcome'
import { failureText } from '../ui/words'
import { leave } from './door'

interface OtherFarmProps {
  readonly notebook: Notebook
  readonly entered: Entered
  readonly onStay: () => void
}

export function OtherFarm({ notebook, entered, onStay }: OtherFarmProps) {
  const [saved, setSaved] = useState<readonly Saved[]>([])
  const [problem, setProblem] = useState('')
  const before = notebook.farm.value.name || t('other_farm.unnamed')
  const now = entered.member.farmName || t('other_farm.unnamed')
  const { entries, photos } = useUnsent(notebook)
  const left = (entries > 0 && !saved.includes('entries')) || (photos.count > 0 && !saved.includes('photos'))
  const stay = async () => {
    await leave() // the shed may be out of reach by now; an owner can withdraw the device there
    onStay()
  }
  const change = async () => {
    try {
      await notebook.joined(entered)
      go('row')
      location.reload() // the other farm's notebook is opened
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <Welcome title={t('other_farm.title', { farm: now })}>
      <p>{t('other_farm', { before, now })}</p>
      {entries > 0 && <p class="note stop">{t('other_farm.unsent', { n: entries, before })}</p>}
      {photos.count > 0 && <p class="note stop">{t('other_farm.photos', { n: photos.count, before })}</p>}
      <SaveUnsent notebook={notebook} onSaved={(what) => setSaved([...saved, what])} />
      {saved.length > 0 && !left && <p class="note" role="status">{t('other_farm.saved', { before })}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="button" class="btn main" disabled={left} onClick={() => void change()}>
        {t('other_farm.change', { now })}
      </button>
      <button type="button" class="btn" onClick={() => void stay()}>{t('other_farm.stay', { before })}</button>
    </Welcome>
  )
}
