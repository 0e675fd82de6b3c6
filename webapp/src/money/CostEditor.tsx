// A cost as it is typed. A new one leaves the form open for the next, of the same day and kind.

import { useRef, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { type Cost, type CostID, type CostKind, costKinds } from '../crop/money_nouns'
import type { BedID, StockID } from '../crop/nouns'
import type { Cents, ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { costEntry, deleted, entered, putRight } from './book'
import { costForm, type CostForm, type EntryProblem, readCost } from './forms'
import { EditorButtons } from './EditorButtons'
import { SelectField } from './SelectField'

interface CostEditorProps {
  readonly cost: Cost
  readonly isNew?: boolean
  readonly doing: Undoable
  readonly onDone: () => void
}

export function CostEditor({ cost: before, isNew = false, doing, onDone }: CostEditorProps) {
  const { beds, stocks, sales } = useNotebook().farm.value
  const [form, setForm] = useState<CostForm>(() => costForm(before))
  const [problem, setProblem] = useState<EntryProblem | undefined>(undefined)
  const first = useRef<HTMLInputElement>(null)
  const tell = (part: Partial<CostForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblem(undefined)
  }
  const money = (cost: Cost) => amount(cost.cents, sales.terms.currency)
  const saidOf = (cost: Cost) => t(cost.cents < 0 ? 'money.cost.back.said' : 'money.cost.said', { sum: amount(Math.abs(cost.cents) as Cents, sales.terms.currency) })
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readCost(form, today.peek())
    if ('problem' in read) return setProblem(read.problem)
    const entry = costEntry(read.entry)
    const deed = isNew ? entered(entry) : putRight(costEntry(before), entry)
    if (!await doing.act(() => ({ ...deed, said: saidOf(read.entry) }))) return
    if (!isNew) return onDone()
    setForm((all) => ({ ...all, id: newUUID() as CostID, what: '', amount: '', back: false }))
    first.current?.focus()
  }
  const remove = async () => {
    if (await doing.act(() => ({ ...deleted(costEntry(before)), said: t('money.deleted', { sum: money(before) }) }))) onDone()
  }
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <div class="two-fields">
        <label class="field">
          <span>{t('money.cost.what')}</span>
          <input ref={first} value={form.what} maxLength={200} autocomplete="off" onInput={(event) => tell({ what: event.currentTarget.value })} />
        </label>
        <label class="field">
          <span>{sales.terms.currency === '' ? t('money.amount') : t('money.amount.in', { currency: sales.terms.currency })}</span>
          <input inputMode="decimal" autocomplete="off" maxLength={12} value={form.amount} onInput={(event) => tell({ amount: event.currentTarget.value })} />
        </label>
        <SelectField label={t('money.cost.kind')} value={form.kind} options={costKinds.map((kind) => [kind, t(`money.kind.${kind}`)])} onChoose={(kind) => tell({ kind: kind as CostKind })} />
        <label class="field">
          <span>{t('money.day')}</span>
          <input type="date" max={today.value} value={form.day} onInput={(event) => tell({ day: event.currentTarget.value })} />
        </label>
      </div>
      <label class="switch"><input type="checkbox" checked={form.back} onChange={(event) => tell({ back: event.currentTarget.checked })} /><span>{t('money.cost.back')}</span></label>
      <label class="switch"><input type="checkbox" checked={form.fixed} onChange={(event) => tell({ fixed: event.currentTarget.checked })} /><span>{t('money.cost.fixed')}</span></label>
      <details>
        <summary>{t('money.cost.for')}</summary>
        <div class="two-fields">
          <SelectField label={t('work.bed')} value={form.bed} none={t('work.bed.none')} options={named(beds.values())} onChoose={(bed) => tell({ bed: bed as BedID | '' })} />
          <SelectField label={t('money.cost.stock')} value={form.stock} none={t('money.cost.stock.none')} options={named(stocks.values())} onChoose={(stock) => tell({ stock: stock as StockID | '' })} />
          <SelectField label={t('work.channel')} value={form.channel} none={t('work.channel.none')} options={named(sales.channels.values())} onChoose={(channel) => tell({ channel: channel as ChannelID | '' })} />
        </div>
      </details>
      <EditorButtons problem={problem} onCancel={onDone} stays={isNew} onDelete={isNew ? undefined : () => void remove()} />
    </form>
  )
}

function named(all: Iterable<{ readonly id: string; readonly name: string }>): (readonly [string, string])[] {
  return [...all].map(({ id, name }) => [id, name] as const).sort((a, b) => a[1].localeCompare(b[1], undefined, { numeric: true }))
}
