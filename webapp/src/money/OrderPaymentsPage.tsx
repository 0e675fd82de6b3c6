// What was paid for one order by itself, as where it was paid before it was billed; also once it was withdrawn.

import { dueOf } from '../crop/due'
import { goneHead } from '../crop/once_ordered'
import { paymentsFor } from '../crop/paid'
import { buyerOf } from '../crop/price_of'
import type { OrderID } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { PaymentRows } from './PaymentRows'

export function OrderPaymentsPage({ id }: { readonly id: string }) {
  const { sales, money } = useNotebook().farm.value
  const order = id as OrderID
  const doing = useUndoable()
  const due = dueOf(sales, order)
  const gone = due ? undefined : goneHead(sales, order, undefined)
  const day = due?.day ?? gone?.due ?? ''
  const buyer = due?.buyer ?? gone?.buyer
  const payments = paymentsFor(money, order)
  return (
    <>
      <PageHead title={day === '' ? t('money.payments') : t('orders.delivery', { day: dayName(day, today.value) })} back={href('shed', 'orders', 'order', order)} />
      <div class="page reading money">
        <div class="stays"><UndoNote {...doing} /></div>
        <p class="say">{(buyer && buyerOf(sales, buyer)?.name) || t('buyer.unknown')}</p>
        <p>{t(payments.length === 0 ? 'money.order.none' : 'money.order.counts')}</p>
        <PaymentRows parts={payments.map((payment) => ({ payment, cents: payment.cents }))} currency={sales.terms.currency} doing={doing} />
      </div>
    </>
  )
}
