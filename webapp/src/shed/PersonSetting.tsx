// Who records on this device.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PersonChoice } from '../ui/PersonChoice'
import { useRights } from '../ui/rights'

export function PersonSetting() {
  const notebook = useNotebook()
  const may = useRights()
  const member = notebook.member.value
  const name = member && (notebook.farm.value.people.get(member.person)?.name || member.name)
  return (
    <section class="card">
      <h2>{t('settings.person')}</h2>
      {name && <p>{t('settings.person.belongs', { name })}</p>}
      {may.record ? <p class="small">{t('settings.person.note')}</p> : <p class="small">{t('looks_on')}</p>}
      {may.record && <PersonChoice chosen={notebook.person.value} adds={may.manage} />}
      {may.record && !may.manage && <p class="small">{t('settings.person.owners')}</p>}
    </section>
  )
}
