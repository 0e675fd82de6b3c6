// Where the plan does another thing than to replant after the third season.

import type { Cents } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { againstAgeRule } from './decided'
import type { Action } from './division_answer'

export function AgainstRule({ actions }: { readonly actions: readonly Action[] }) {
  const { currency } = useNotebook().farm.value.sales.terms
  const rules = againstAgeRule(actions)
  return (
    <section class="card">
      <h2>{t('division.rule')}</h2>
      <p class="small">{t('division.rule.what')}</p>
      {rules.length === 0 ? <p>{t('division.rule.same')}</p> : (
        <ul class="reasons">
          {rules.map(({ plan, rule, plants, cents }) => (
            <li key={`${plan} ${rule}`}>
              {t('division.rule.differs', { n: plants, plan: t(`division.do.${plan}`).toLocaleLowerCase(), rule: t(`division.do.${rule}`).toLocaleLowerCase() })}{' '}
              {t(cents < 0 ? 'division.rule.more' : 'division.rule.less', { amount: amount(Math.round(Math.abs(cents)) as Cents, currency) })}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
