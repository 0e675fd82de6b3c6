// Packing: the plan of a day, packing by taps, and which buckets to fetch.

import { parseDay } from '../crop/day'
import type { LineID, OrderID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { today } from '../ui/today'
import { dayToOpen, daysDue } from './due_lines'
import { HandPage } from './HandPage'
import { PackPage } from './PackPage'
import './packing.css'
import { PickPage } from './PickPage'
import { PlanPage } from './PlanPage'

export function PackingPlace() {
  const sales = useNotebook().farm.value.sales
  const [, , asked = '', page, order, line] = route.value
  const day = parseDay(asked) ?? dayToOpen(daysDue(sales, today.value), today.value)
  if (!day) {
    return (
      <>
        <PageHead title={t('packing.title')} back={href('shed')} />
        <div class="page"><p class="say">{t('packing.nothing')}</p></div>
      </>
    )
  }
  if (page === 'pack') return <PackPage key={day} day={day} />
  if (page === 'pick') return <PickPage key={day} day={day} />
  if (page === 'hand') return <HandPage key={`${order} ${line}`} order={order as OrderID} line={line as LineID} day={day} />
  return <PlanPage key={day} day={day} />
}
