// The head and the foot of a statement as they are typed.

import { useState } from 'preact/hooks'
import type { Statement, StatementID } from '../crop/money_nouns'
import type { ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { entered, putRight, statementDeleted, statementEntry } from './book'
import { EditorButtons } from './EditorButtons'
import { type EntryProblem, readStatement, type StatementForm, statementForm } from './forms'
import { SelectField } from './SelectField'
import { rowsOf } from './statements'

interface StatementEditorProps {
  readonly statement: Statement
  readonly isNew?: boolean
  readonly doing: Undoable
  /** With the id of what was saved; undefined where nothing was. */
  readonly onDone: (saved: StatementID | undefined) => void
}

export function StatementEditor({ statement, isNew = false, doing, onDone }: StatementEditorProps) {
  const notebook = useNotebook()
  const { channels, terms } = notebook.farm.value.sales
  const [before] = useState(statement)
  const [form, setForm] = useState<StatementForm>(() => statementForm(before))
  const [problem, setProblem] = useState<EntryProblem | undefined>(undefined)
  const tell = (part: Partial<StatementForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblem(undefined)
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readStatement(form, today.peek())
    if ('problem' in read) return setProblem(read.problem)
    const deed = isNew ? entered(statementEntry(read.entry)) : putRight(statementEntry(before), statementEntry(read.entry))
    if (await doing.act(() => ({ ...deed, said: t('money.statement.said') }))) onDone(read.entry.id)
  }
  const remove = async () => {
    if (await doing.act(({ money }) => ({ ...statementDeleted(before, rowsOf(money, before.id)), said: t('money.statement.deleted') }))) onDone(undefined)
  }
  const names = [...channels.values()].map(({ id, name }) => [id as string, name] as const).sort((a, b) => a[1].localeCompare(b[1]))
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <SelectField label={t('money.statement.channel')} value={form.channel} none={t('money.statement.channel.none')} options={names} onChoose={(channel) => tell({ channel: channel as ChannelID })} />
      <div class="two-fields">
        <DateField label={t('money.statement.from')} value={form.from} onInput={(from) => tell({ from })} />
        <DateField label={t('money.statement.to')} value={form.to} onInput={(to) => tell({ to })} />
        <label class="field">
          <span>{terms.currency === '' ? t('money.statement.foot') : t('money.statement.foot.in', { currency: terms.currency })}</span>
          <input inputMode="text" autocomplete="off" maxLength={12} value={form.amount} onInput={(event) => tell({ amount: event.currentTarget.value })} />
        </label>
        <DateField label={t('money.statement.paid')} value={form.paid} onInput={(paid) => tell({ paid })} />
      </div>
      <label class="field">
        <span>{t('work.note')}</span>
        <input value={form.note} maxLength={200} autocomplete="off" onInput={(event) => tell({ note: event.currentTarget.value })} />
      </label>
      <EditorButtons problem={problem} onCancel={() => onDone(undefined)} onDelete={isNew ? undefined : () => void remove()} />
    </form>
  )
}

function DateField({ label, value, onInput }: { readonly label: string; readonly value: string; readonly onInput: (value: string) => void }) {
  return (
    <label class="field">
      <span>{label}</span>
      <input type="date" value={value} onInput={(event) => onInput(event.currentTarget.value)} />
    </label>
  )
}
