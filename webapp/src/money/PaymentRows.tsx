// Payments one below the other, each opened by a tap to be put right or deleted.

import { useState } from 'preact/hooks'
import type { Payment, PaymentID } from '../crop/money_nouns'
import type { PaidPart } from '../crop/payment_parts'
import { dayName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { deleted, entered, paymentEntry, putRight } from './book'
import { EditorButtons } from './EditorButtons'
import { type EntryProblem, paymentForm, type PaymentForm, readPayment } from './forms'

interface PaymentRowsProps {
  readonly parts: readonly PaidPart[]
  readonly currency: string
  readonly doing: Undoable
}

export function PaymentRows({ parts, currency, doing }: PaymentRowsProps) {
  const [open, setOpen] = useState<PaymentID | undefined>(undefined)
  if (parts.length === 0) return null
  return (
    <section>
      <h2>{t('money.payments')}</h2>
      <ul class="rows">
        {parts.map((part) => (
          <li key={part.payment.id}>
            {open === part.payment.id
              ? <PaymentEditor payment={part.payment} currency={currency} doing={doing} onDone={() => setOpen(undefined)} />
              : <PaymentLine part={part} currency={currency} onOpen={() => setOpen(part.payment.id)} />}
          </li>
        ))}
      </ul>
    </section>
  )
}

function PaymentLine({ part: { payment, cents }, currency, onOpen }: { readonly part: PaidPart; readonly currency: string; readonly onOpen: () => void }) {
  return (
    <button type="button" class="line plain" onClick={onOpen}>
      <span>
        <b class="sentence">{dayName(payment.date, today.value)}</b>
        {cents !== payment.cents && <span class="small block">{t('money.payment.part', { sum: amount(payment.cents, currency) })}</span>}
        {payment.note !== '' && <span class="small block">{payment.note}</span>}
      </span>
      <span class="num">{amount(cents, currency)}</span>
    </button>
  )
}

interface PaymentEditorProps {
  readonly payment: Payment
  readonly isNew?: boolean
  readonly currency: string
  readonly doing: Undoable
  readonly onDone: () => void
}

export function PaymentEditor({ payment, isNew = false, currency, doing, onDone }: PaymentEditorProps) {
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
