// Whether what is stored on this device is safe there, in full.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { isLoss } from '../sync/notebook'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'

export function StorageNotes() {
  const notebook = useNotebook()
  const [failure, setFailure] = useState<unknown>(undefined)
  const understood = () => {
    setFailure(undefined)
    notebook.forgetLoss().catch(setFailure)
  }
  return (
    <>
      {failure !== undefined && <p class="note stop" role="alert">{failureText(failure)}</p>}
      {notebook.storage.value.map((trouble) => (
        <div key={trouble} class={`note ${isLoss(trouble) ? 'stop' : 'warn'}`}>
          <p><Icon name="warn" /> {t(`storage.${trouble}`)}</p>
          {trouble === 'closed' && <button type="button" class="btn" onClick={() => location.reload()}>{t('storage.reload')}</button>}
          {trouble === 'lost' && <button type="button" class="btn" onClick={understood}>{t('storage.understood')}</button>}
        </div>
      ))}
    </>
  )
}
