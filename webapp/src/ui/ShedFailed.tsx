// That the shed did not answer, and asking again.

import { t } from '../messages/messages'

export function ShedFailed({ onRetry }: { readonly onRetry: () => void }) {
  return (
    <div class="note stop undoable" role="alert">
      <p>{t('ages.failed')}</p>
      <button type="button" class="btn" onClick={onRetry}>{t('try_again')}</button>
    </div>
  )
}
