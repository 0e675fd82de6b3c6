// That the day is another since it was planned: what changed, and that it is planned anew or how to have it so.

import type { Farm } from '../crop/nouns'
import { listed, momentName, t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { buyerWritten } from '../ui/lot_words'
import { changesKey, type PlanChanges } from './plan_changes'
import type { DayPlan } from './plans'

export function PlanSince({ plan, changes }: { readonly plan: DayPlan; readonly changes: PlanChanges | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const at = plan.shed.answer.value?.at
  if (!changes || at === undefined || changesKey(changes) === '') return null
  const what = changesWritten(farm, changes)
  if (plan.shed.fetching.value === 'yes') return <p class="note" role="status">{t('packing.stale.asking', { what })}</p>
  if (!inReach(notebook.sync.value)) return <p class="note warn" role="status">{t('packing.stale.offline', { moment: momentName(at), what })}</p>
  return (
    <div class="note warn undoable" role="status">
      <p>{t('packing.stale', { moment: momentName(at), what })}</p>
      <button type="button" class="btn" onClick={() => void plan.shed.refresh(notebook)}>{t('packing.anew')}</button>
    </div>
  )
}

/** "The order of Studio changed. 12 more stems are there." */
export function changesWritten(farm: Farm, { orders, gone, more, fewer, otherwise, wishes }: PlanChanges): string {
  return [
    orders.length > 0 && t('packing.stale.orders', { n: orders.length, buyers: listed(orders.map((id) => buyerWritten(farm, id))) }),
    gone > 0 && t('packing.stale.gone', { n: gone }),
    more > 0 && t('packing.stale.more', { n: more }),
    fewer > 0 && t('packing.stale.fewer', { n: fewer }),
    otherwise > 0 && t('packing.stale.otherwise', { n: otherwise }),
    wishes && t('packing.stale.wishes'),
  ].filter(Boolean).join(' ')
}
