// Offers a newer version of the app; never during a walk, and never by itself.

import { t } from '../messages/messages'
import { takeUpdate, updateWaiting } from './field'

export function UpdateBanner({ walking }: { readonly walking: boolean }) {
  if (!updateWaiting.value || walking) return null
  return (
    <div class="update note" role="status">
      <span>{t('update')}</span>
      <button type="button" class="btn" onClick={takeUpdate}>{t('update.take')}</button>
    </div>
  )
}
