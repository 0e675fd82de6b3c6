// Which photos of this device the shed does not have, why where it does not take them, and saving them.

import { bytesName, t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { SavePhotos } from '../ui/SaveUnsent'

export function PhotosWaiting() {
  const photos = usePhotos()
  const may = useRights()
  const live = useNotebook().sync.value.link === 'live'
  const { count, bytes } = photos.waiting.value
  const refused = photos.refused.value
  const trouble = photos.trouble.value
  const alone = photos.onlyHere.value.count
  // What goes out by itself in a moment need not be saved.
  const underWay = live && may.record && trouble === '' && alone === count
  return (
    <>
      {count > 0 && <p>{t('photos.sync.waiting', { n: count, size: bytesName(bytes) })}</p>}
      {count > 0 && !may.record && <p class="note warn">{t('photos.sync.looks_on')}</p>}
      {count > 0 && trouble === 'full' && <p class="note stop">{t('photos.sync.full')}</p>}
      {count > 0 && trouble === 'no_room' && <p class="note stop">{t('photos.sync.no_room')}</p>}
      {count > 0 && trouble === 'crowded' && <p class="note">{t('photos.sync.crowded')}</p>}
      {refused > 0 && <p class="note stop">{t('photos.sync.refused', { n: refused })}</p>}
      {alone > count + refused && <p class="note stop">{t('photos.sync.unnamed', { n: alone - count - refused })}</p>}
      {alone > 0 && !underWay && <SavePhotos />}
    </>
  )
}
