// What the plan takes for granted.

import type { Cents } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'

/** Mirrors UsualCosts of internal/division: common practice, no source. */
export const usual = { hour: 2000, divide: 6, lift: 5, set: 3, plug: 250, ground: 40, standing: 70 }

export function Assumptions() {
  const { currency } = useNotebook().farm.value.sales.terms
  const told = (cents: number) => amount(cents as Cents, currency)
  return (
    <details class="card">
      <summary>{t('division.assumed')}</summary>
      <ul class="reasons">
        <li>{t('division.assumed.labour', { hour: told(usual.hour), divide: usual.divide, lift: usual.lift, set: usual.set })}</li>
        <li>{t('division.assumed.plug', { plug: told(usual.plug), ground: told(usual.ground) })}</li>
        <li>{t('division.assumed.standing', { percent: usual.standing })}</li>
        <li>{t('division.assumed.market')}</li>
      </ul>
      <p class="small">{t('division.assumed.source')}</p>
    </details>
  )
}
