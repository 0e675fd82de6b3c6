// How the sync stands, at a glance and in words.

import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import type { Barred, SyncStatus } from '../sync/notebook'
import { Icon, type IconName } from './Icon'
import { useNotebook } from './notebook'
import { href } from './route'

export function SyncChip() {
  const notebook = useNotebook()
  const [status, barred] = [notebook.sync.value, notebook.barred.value]
  const photos = usePhotos().waiting.value.count
  return (
    <a class="chip" href={href('shed', 'sync')}>
      <Icon name={signOf(status, barred, photos)} />
      <span>{syncText(status, barred, photos)}</span>
    </a>
  )
}

function signOf(status: SyncStatus, barred: Barred | undefined, photos: number): IconName {
  if (barred || status.link === 'refused' || status.notKept > 0) return 'warn'
  if (status.link === 'offline' || status.link === 'connecting') return 'away'
  return status.pending + status.sent + photos > 0 || status.link === 'catching_up' ? 'up' : 'check'
}

/** The one line that matters now; what the shed refused first, photos last. */
function syncText(status: SyncStatus, barred: Barred | undefined, photos: number): string {
  const waiting = status.pending + status.sent
  if (barred) return waiting + photos > 0 ? t('sync.barred', { n: waiting + photos }) : t('sync.barred.all')
  if (status.link === 'refused') return t('sync.refused', { n: waiting })
  if (status.notKept > 0) return t('sync.not_kept', { n: status.notKept })
  if (status.link === 'offline' || status.link === 'connecting') {
    if (waiting > 0) return t('sync.offline', { n: waiting })
    return photos > 0 ? t('photos.chip.offline', { n: photos }) : t('sync.offline.all')
  }
  if (status.sent > 0) return t('sync.sending', { n: status.sent })
  if (status.pending > 0) return t('sync.pending', { n: status.pending })
  if (status.link === 'catching_up') return t('sync.catching_up')
  return photos > 0 ? t('photos.chip', { n: photos }) : t('sync.all')
}
