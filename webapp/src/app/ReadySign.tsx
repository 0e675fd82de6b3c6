// Says that the app works with no signal, and only once the service worker has said so.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { readyForField } from './field'

export function ReadySign() {
  if (!readyForField.value) return null
  return <p class="ready small"><Icon name="field" /> {t('ready')}</p>
}
