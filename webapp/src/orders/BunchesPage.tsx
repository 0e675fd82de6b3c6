// The rules for tying bunches: how many stems, and what they must be at least.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { qualityText } from '../ui/sale_words'

export function BunchesPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const bunches = [...farm.sales.bunches.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <>
      <PageHead title={t('orders.rules.title')} back={href('shed', 'orders')} />
      <div class="page orders reading">
        <p class="small">{t('orders.rules.why')}</p>
        {bunches.length === 0 && <p>{t('orders.rules.none')}</p>}
        <ul class="rows">
          {bunches.map((bunch) => {
            const words = <b>{bunch.name}</b>
            const what = <span class="small">{[t('orders.stems', { n: bunch.stems }), qualityText(farm, bunch)].filter((part) => part !== '').join(', ')}</span>
            return (
              <li key={bunch.id}>
                {may.manage ? <a class="line plain" href={href('shed', 'orders', 'bunches', bunch.id)}>{words}{what}</a> : <div class="line plain">{words}{what}</div>}
              </li>
            )
          })}
        </ul>
        {may.manage && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'bunches', 'new')}>{t('orders.rule.new')}</a></div>}
      </div>
    </>
  )
}
