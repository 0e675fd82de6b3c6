// What the plan takes for granted, and what of it the farm says itself.

import { t } from '../messages/messages'
import { CostsForm } from './CostsForm'

export function Assumptions() {
  return (
    <details class="card">
      <summary>{t('division.assumed')}</summary>
      <p>{t('division.assumed.market')}</p>
      <p class="small">{t('division.assumed.source')}</p>
      <CostsForm />
    </details>
  )
}
