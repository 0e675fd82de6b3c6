// Whether what is stored on this device is safe there, in full.

import { t } from '../messages/messages'
import type { StorageTrouble } from '../sync/notebook'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'

export function StorageNotes() {
  const notebook = useNotebook()
  return (
    <>
      {notebook.storage.value.map((trouble) => (
        <div key={trouble} class={`note ${isLoss(trouble) ? 'stop' : 'warn'}`}>
          <p><Icon name="warn" /> {t(`storage.${trouble}`)}</p>
          {trouble === 'closed' && <button type="button" class="btn" onClick={() => location.reload()}>{t('storage.reload')}</button>}
          {trouble === 'lost' && <button type="button" class="btn" onClick={() => void notebook.forgetLoss()}>{t('storage.understood')}</button>}
        </div>
      ))}
    </>
  )
}

function isLoss(trouble: StorageTrouble): boolean {
  return trouble === 'closed' || trouble === 'lost'
}
