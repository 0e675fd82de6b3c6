// First start: who counts on this phone.

import { t } from '../messages/messages'
import { PersonChoice } from '../ui/PersonChoice'
import { useNotebook } from '../ui/notebook'
import { Welcome } from './Welcome'

export function WhoAreYou() {
  const farm = useNotebook().farm.value
  return (
    <Welcome title={t('who')}>
      {farm.madeUp && <p class="note">{t('made_up')}</p>}
      <p>{farm.name === '' ? t('who.text.unnamed') : t('who.text', { farm: farm.name })}</p>
      <PersonChoice chosen="" />
    </Welcome>
  )
}
