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
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { deleted, entered, paymentEntry, putRight } from './book'
import { EditorButtons } from './EditorButtons'
import { type EntryProblem, paymentForm, type PaymentForm, readPayment } from './forms'

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
      <Payments invoice={invoice} doing={doing} />
      <a class="btn" href={href('shed', 'papers', 'invoice', invoice.id)}>{t('money.see_invoice')}</a>
    </>
  )
}

function Payments({ invoice, doing }: { readonly invoice: Invoice; readonly doing: Undoable }) {
  const payments = paymentsOf(useNotebook().farm.value, invoice)
  const [open, setOpen] = useState<PaymentID | undefined>(undefined)
  if (payments.length === 0) return null
  return (
    <section>
      <h2>{t('money.payments')}</h2>
      <ul class="rows">
        {payments.map((payment) => (
          <li key={payment.id}>
            {open === payment.id ? <PaymentEditor payment={payment} currency={invoice.currency} doing={doing} onDone={() => setOpen(undefined)} /> : (
              <button type="button" class="line plain" onClick={() => setOpen(payment.id)}>
                <span><b class="sentence">{dayName(payment.date, today.value)}</b>{payment.note !== '' && <span class="small block">{payment.note}</span>}</span>
                <span class="num">{amount(payment.cents, invoice.currency)}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

interface PaymentEditorProps {
  readonly payment: Payment
  readonly isNew?: boolean
  readonly currency: string
  readonly doing: Undoable
  readonly onDone: () => void
}

function PaymentEditor({ payment, isNew = false, currency, doing, onDone }: PaymentEditorProps) {
  const [before] = useState(payment)
  const [form, setForm] = useState<PaymentForm>(() => paymentForm(before))
  const [problem, setProblem] = useState<EntryProblem | undefined>(undefined)
  const tell = (part: Partial<PaymentForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblem(undefined)
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readPayment(form, today.peek())
    if ('problem' in read) return setProblem(read.problem)
    const deed = isNew ? entered(paymentEntry(read.entry)) : putRight(paymentEntry(before), paymentEntry(read.entry))
    if (await doing.act(() => ({ ...deed, said: t('money.payment.said', { sum: amount(read.entry.cents, currency) }) }))) onDone()
  }
  const remove = async () => {
    if (await doing.act(() => ({ ...deleted(paymentEntry(before)), said: t('money.deleted', { sum: amount(before.cents, currency) }) }))) onDone()
  }
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <div class="two-fields">
        <label class="field">
          <span>{t('money.payment.amount')}</span>
          <input inputMode="text" autocomplete="off" maxLength={12} value={form.amount} onInput={(event) => tell({ amount: event.currentTarget.value })} />
        </label>
        <label class="field">
          <span>{t('money.day')}</span>
          <input type="date" max={today.value} value={form.day} onInput={(event) => tell({ day: event.currentTarget.value })} />
        </label>
      </div>
      <label class="field">
        <span>{t('work.note')}</span>
        <input value={form.note} maxLength={200} autocomplete="off" onInput={(event) => tell({ note: event.currentTarget.value })} />
      </label>
      <EditorButtons problem={problem} onCancel={onDone} onDelete={isNew ? undefined : () => void remove()} />
    </form>
  )
}
