// What to take care of at the bench and the cooler: short, put away in a tap, and back in another.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import './care.css'

const subjects = ['lifting', 'blades', 'floor', 'sap'] as const
const kept = 'device.care.cooler'

export function CoolerCare() {
  const notebook = useNotebook()
  const [away, setAway] = useState(() => notebook.kept<boolean>(kept) === true)
  const put = (gone: boolean) => {
    setAway(gone)
    // It is shown again the next time; storage has said so of graver things.
    notebook.keep(kept, gone).catch((reason: unknown) => console.error('keeping that a caution was read', reason))
  }
  if (away) return <button type="button" class="btn quiet care-back" onClick={() => put(false)}><Icon name="care" />{t('care.title')}</button>
  return (
    <section class="card" aria-label={t('care.title')}>
      <h2><Icon name="care" /> {t('care.title')}</h2>
      <ul class="care-list">
        {subjects.map((subject) => <li key={subject}>{t(`cooler_care.${subject}`)}</li>)}
      </ul>
      <p class="small">{t('cooler_care.rules')}</p>
      <button type="button" class="btn" onClick={() => put(true)}>{t('cooler_care.away')}</button>
    </section>
  )
}
