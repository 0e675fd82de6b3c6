// A short line over every place while what is stored on this device is not safe there; Shed says it in
// full.

import { t } from '../messages/messages'
import { isLoss, type StorageTrouble, type SyncStatus } from '../sync/notebook'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'

export function StorageLine() {
  const notebook = useNotebook()
  // That nothing is sent at all is said already, and weighs more than what the browser may do.
  const said = notebook.barred.value !== undefined
  const trouble = notebook.storage.value.find((one) => !(said && one === 'not_persistent') && matters(one, notebook.sync.value))
  if (trouble === undefined) return null
  return (
    <p class={`note ${isLoss(trouble) ? 'stop' : 'warn'}`} role="status">
      <Icon name="warn" /> <a href={href('shed', 'sync')}>{t(`storage.line.${trouble}`)}</a>
    </p>
  )
}

/** What the browser may delete matters while it is nowhere else. */
function matters(trouble: StorageTrouble, { link, pending, sent }: SyncStatus): boolean {
  return trouble !== 'not_persistent' || (link !== 'live' && pending + sent > 0)
}
