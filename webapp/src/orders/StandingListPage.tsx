// All standing orders, those that have ended apart.

import { buyerOf } from '../crop/price_of'
import type { StandingOrder } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import { hasEnded, standingLines, standingText } from './standing_words'
import { useGrowing } from './use_growing'

export function StandingListPage() {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  const name = (s: StandingOrder) => buyerOf(sales, s.buyer)?.name ?? t('orders.buyer.unknown')
  const all = [...sales.standings.values()].sort((a, b) => name(a).localeCompare(name(b)) || (a.from < b.from ? -1 : 1))
  const ended = all.filter((one) => hasEnded(one, today.value))
  const going = all.filter((one) => !hasEnded(one, today.value))
  const drawn = useGrowing(going.length)
  return (
    <>
      <PageHead title={t('orders.standing.title')} back={href('shed', 'orders')} />
      <div class="page orders reading">
        {going.length === 0 && <p>{t('orders.standing.none')}</p>}
        <ul class="rows">{going.slice(0, drawn).map((one) => <li key={one.id}><OneStanding standing={one} name={name(one)} /></li>)}</ul>
        {ended.length > 0 && (
          <details>
            <summary>{t('orders.standing.ended.n', { n: ended.length })}</summary>
            <ul class="rows">{ended.map((one) => <li key={one.id}><OneStanding standing={one} name={name(one)} /></li>)}</ul>
          </details>
        )}
        {may.manage && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'standing', 'new')}>{t('orders.standing.new')}</a></div>}
      </div>
    </>
  )
}

function OneStanding({ standing, name }: { readonly standing: StandingOrder; readonly name: string }) {
  const farm = useNotebook().farm.value
  return (
    <a class="delivery" href={href('shed', 'orders', 'standing', standing.id)}>
      <span><b>{name}</b><span class="block">{standingText(standing, today.value)}</span></span>
      <ul class="lines">{standingLines(farm.sales, standing.id).map((line) => <li key={line.id}>{lineText(farm, line)}</li>)}</ul>
    </a>
  )
}
