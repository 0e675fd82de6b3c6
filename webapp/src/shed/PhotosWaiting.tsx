// Which photos of this device the shed does not have, and why where it does not take them.

import { bytesName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'

export function PhotosWaiting() {
  const photos = usePhotos()
  const { count, bytes } = photos.waiting.value
  const refused = photos.refused.value
  const trouble = photos.trouble.value
  return (
    <>
      {count > 0 && <p>{t('photos.sync.waiting', { n: count, size: bytesName(bytes) })}</p>}
      {count > 0 && trouble === 'full' && <p class="note stop">{t('photos.sync.full')}</p>}
      {count > 0 && trouble === 'no_room' && <p class="note stop">{t('photos.sync.no_room')}</p>}
      {count > 0 && trouble === 'crowded' && <p class="note">{t('photos.sync.crowded')}</p>}
      {refused > 0 && <p class="note stop">{t('photos.sync.refused', { n: refused })}</p>}
    </>
  )
}
