// A deleted buyer to whom something is still due, which needs a look: bring the buyer back, or withdraw what is due.

import type { Deed } from '../crop/deed'
import type { Day } from '../crop/nouns'
import type { SaleLook } from '../crop/sale_looks'
import type { Sales } from '../crop/sale_nouns'
import { openOf } from '../crop/open_lines'
import { t } from '../messages/messages'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { bringBuyerBack, deleteBuyerAndOpen } from './buyer_deeds'
import { OpenList } from './OpenList'

type BuyerGone = Extract<SaleLook, { kind: 'buyer_gone' }>

interface BuyerGoneCardProps {
  readonly look: BuyerGone
  /** The plan is asked for when its turn to be stored comes. */
  readonly onDeed: (plan: (sales: Sales) => Deed, said: string) => void
}

export function BuyerGoneCard({ look: { buyer, open }, onDeed }: BuyerGoneCardProps) {
  const may = useRights()
  const { name } = buyer
  return (
    <section class="card" aria-label={t('orders.look.gone', { buyer: name })}>
      <p><b>{t('orders.look.gone', { buyer: name })}</b></p>
      <OpenList open={open} />
      {may.manage ? (
        <>
          <p class="small">{t('orders.look.gone.safe')}</p>
          <div class="buttons">
            <button type="button" class="btn" onClick={() => onDeed(() => bringBuyerBack(buyer), t('orders.buyer.back', { name }))}>{t('orders.buyer.bring_back')}</button>
            <button type="button" class="btn" onClick={() => onDeed((sales) => withdrawDue(sales, buyer, today.peek()), t('orders.open.withdrawn', { name }))}>{t('orders.open.withdraw')}</button>
          </div>
        </>
      ) : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
    </section>
  )
}

function withdrawDue(sales: Sales, buyer: BuyerGone['buyer'], day: Day): Deed {
  return deleteBuyerAndOpen(sales, buyer, openOf(sales, day, (id) => id === buyer.id), day)
}
