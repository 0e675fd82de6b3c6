// Who records on this device.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PersonChoice } from '../ui/PersonChoice'

export function PersonSetting() {
  const notebook = useNotebook()
  return (
    <section class="card">
      <h2>{t('settings.person')}</h2>
      <p class="small">{t('settings.person.note')}</p>
      <PersonChoice chosen={notebook.person.value} />
    </section>
  )
}
