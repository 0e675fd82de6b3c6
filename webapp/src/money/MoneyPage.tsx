// The ways into the books, each with what stands there now.

import { openBills } from '../crop/paid'
import type { Cents } from '../crop/sale_nouns'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Icon, type IconName } from '../ui/Icon'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { costsIn } from './costs'
import { openDifferences } from './statements'

export function MoneyPage() {
  const farm = useNotebook().farm.value
  const { currency } = farm.sales.terms
  const season = seasonOf(farm.calendar, today.value)
  const owing = openBills(farm, today.value).filter(({ left }) => left > 0)
  const owed = owing.reduce((sum, { left }) => sum + left, 0) as Cents
  const differences = openDifferences(farm)
  const of = { costs: costsIn(farm.money, farm.calendar, season), season: String(season) }
  return (
    <>
      <PageHead title={t('place.money')}><SyncChip /></PageHead>
      <div class="page reading money">
        <nav class="entrances" aria-label={t('place.money')}>
          <Entrance page="costs" icon="list" title={t('money.costs')} said={t('money.costs.season', { season: of.season, sum: amount(of.costs.sum, currency) })} />
          <Entrance page="unpaid" icon="money" title={t('money.unpaid')} said={owing.length === 0 ? t('money.unpaid.none') : t('money.unpaid.sum', { n: owing.length, sum: amount(owed, currency) })} />
          <Entrance page="statements" icon="check" title={t('money.statements')} said={differences === 0 ? t('money.statements.settled', { n: farm.money.statements.size }) : t('money.statements.open', { n: differences })} />
          <Entrance page="work" icon="clock" title={t('work.title')} said={t('money.work.what')} />
        </nav>
      </div>
    </>
  )
}

interface EntranceProps {
  readonly page: string
  readonly icon: IconName
  readonly title: string
  readonly said: string
}

function Entrance({ page, icon, title, said }: EntranceProps) {
  return (
    <a class="entrance" href={page === 'work' ? href('row', 'work') : href('money', page)}>
      <Icon name={icon} />
      <span><b>{title}</b><span class="small block">{said}</span></span>
      <Icon name="on" />
    </a>
  )
}
