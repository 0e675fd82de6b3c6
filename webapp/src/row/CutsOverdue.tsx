// Deliveries that should have gone out before today: they are still cut for, until somebody settles them. Folded, so that
// the first bed stays in sight.

import type { CutList } from '../crop/cut_list'
import { buyerName } from '../crop/due'
import type { LineNeed } from '../crop/line_needs'
import { overdueDays } from '../crop/overdue'
import type { OrderID } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'

export function CutsOverdue({ list }: { readonly list: CutList }) {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  const deliveries = byOrder(list.plan.overdue)
  if (deliveries.length === 0) return null
  return (
    <details class="note warn cuts-overdue">
      <summary><Icon name="warn" /><span>{t('cuts.overdue', { n: stemsOf(list.plan.overdue) })}</span></summary>
      <p>{t(may.manage ? 'cuts.overdue.do' : 'cuts.overdue.ask')} {t('cuts.overdue.until', { n: overdueDays(sales) })}</p>
      <ul>
        {deliveries.map((needs) => {
          const { order, buyer, due } = needs[0]!
          return (
            <li key={order}>
              <p><b>{buyerName(sales, buyer) || t('orders.buyer.unknown')}</b>, {dayName(due, today.value)}: {t('stems', { n: stemsOf(needs) })}</p>
              <div class="buttons">
                <a class="btn tall" href={href('shed', 'packing', due)}>{t('cuts.overdue.pack')}</a>
                {may.manage && <a class="btn tall" href={href('shed', 'orders', 'order', order)}>{t('cuts.overdue.change')}</a>}
              </div>
            </li>
          )
        })}
      </ul>
    </details>
  )
}

function byOrder(needs: readonly LineNeed[]): LineNeed[][] {
  const found = new Map<OrderID, LineNeed[]>()
  for (const need of needs) found.set(need.order, [...found.get(need.order) ?? [], need])
  return [...found.values()]
}

function stemsOf(needs: readonly LineNeed[]): number {
  return needs.reduce((sum, { stems }) => sum + stems, 0)
}
