// Per which plant stems are said.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { pers } from './ages_per'
import { agesSettings, setPer } from './ages_settings'

export function PerChoice() {
  const notebook = useNotebook()
  const { per } = agesSettings.value
  return (
    <div class="choices three" role="group" aria-label={t('ages.per')}>
      {pers.map((one) => (
        <button key={one} type="button" class="btn" aria-pressed={one === per} onClick={() => void setPer(notebook, one)}>{t(`ages.per.${one}`)}</button>
      ))}
    </div>
  )
}

/** told: whether every age has a number per such a plant. */
export function PerWhy({ told }: { readonly told: boolean }) {
  return <p class="small" role="status">{t(`ages.per.why.${agesSettings.value.per}`)}{!told && ` ${t('ages.per.untold')}`}</p>
}
