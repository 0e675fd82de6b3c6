// What was paid of one invoice.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Payment, PaymentID } from '../crop/money_nouns'
import { paidOf, paymentsOf } from '../crop/paid'
import { buyerOf } from '../crop/price_of'
import type { Cents, Invoice, InvoiceID } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { paidText } from '../ui/paid_words'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { entered, paymentEntry } from './book'
import { PaymentEditor, PaymentRows } from './PaymentRows'

export function InvoicePaymentsPage({ id }: { readonly id: string }) {
  const invoice = useNotebook().farm.value.sales.invoices.get(id as InvoiceID)
  return (
    <>
      <PageHead title={invoice?.number ?? t('money.payments')} back={href('money', 'unpaid')} />
      <div class="page reading money">
        {invoice && invoice.credits === '' ? <OfInvoice invoice={invoice} /> : <p class="note">{t('money.invoice.gone')}</p>}
      </div>
    </>
  )
}

function OfInvoice({ invoice }: { readonly invoice: Invoice }) {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const paid = paidOf(farm, invoice, today.value)
  const money = (cents: Cents) => amount(cents, invoice.currency)
  const blank = (): Payment => ({ id: newUUID() as PaymentID, invoice: invoice.id, order: '', date: today.peek(), cents: paid.left, note: '' })
  const [adding, setAdding] = useState(false)
  const payAll = () => {
    const payment = blank()
    void doing.act(() => ({ ...entered(paymentEntry(payment)), said: t('money.payment.said', { sum: money(payment.cents) }) }))
  }
  return (
    <>
      <div class="stays"><UndoNote {...doing} /></div>
      <p class="say">{buyerOf(farm.sales, invoice.buyer)?.name || t('buyer.unknown')}: {paidText(paid)}</p>
      <dl class="facts sums">
        <dt>{t('money.owed')}</dt><dd>{money(paid.owed)}</dd>
        <dt>{t('money.paid')}</dt><dd>{money(paid.paid)}</dd>
        <dt>{t('money.left')}</dt><dd>{money(paid.left)}</dd>
        {invoice.payBy !== '' && <><dt>{t('money.pay_by.head')}</dt><dd>{dayName(invoice.payBy, today.value)}</dd></>}
      </dl>
      {paid.left > 0 && !adding && <button type="button" class="btn main" onClick={payAll}>{t('money.pay_all', { sum: money(paid.left) })}</button>}
      {adding
        ? <PaymentEditor payment={blank()} isNew currency={invoice.currency} doing={doing} onDone={() => setAdding(false)} />
        : <button type="button" class="btn" onClick={() => setAdding(true)}>{t('money.payment.new')}</button>}
      <PaymentRows parts={paymentsOf(farm, invoice)} currency={invoice.currency} doing={doing} />
      <a class="btn" href={href('shed', 'papers', 'invoice', invoice.id)}>{t('money.see_invoice')}</a>
    </>
  )
}
