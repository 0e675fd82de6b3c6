// A row that was typed or pasted, put right or deleted.

import { useState } from 'preact/hooks'
import type { StatementRow } from '../crop/money_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import type { Undoable } from '../ui/use_undoable'
import { deleted, putRight, rowEntry } from './book'
import { EditorButtons } from './EditorButtons'
import { type EntryProblem, readRow, type RowForm, rowForm } from './forms'
import { RowFields } from './RowFields'

interface RowEditorProps {
  readonly row: StatementRow
  readonly doing: Undoable
  readonly onDone: () => void
}

export function RowEditor({ row, doing, onDone }: RowEditorProps) {
  const { currency } = useNotebook().farm.value.sales.terms
  const [before] = useState(row)
  const [form, setForm] = useState<RowForm>(() => rowForm(before))
  const [problem, setProblem] = useState<EntryProblem | undefined>(undefined)
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readRow(form)
    if ('problem' in read) return setProblem(read.problem)
    const said = t('money.row.said', { place: String(before.place), sum: amount(read.entry.cents, currency) })
    if (await doing.act(() => ({ ...putRight(rowEntry(before), rowEntry({ ...before, ...read.entry })), said }))) onDone()
  }
  const remove = async () => {
    if (await doing.act(() => ({ ...deleted(rowEntry(before)), said: t('money.deleted', { sum: amount(before.cents, currency) }) }))) onDone()
  }
  return (
    <form noValidate onSubmit={(event) => void save(event)}>
      <RowFields form={form} onTell={(part) => { setForm((all) => ({ ...all, ...part })); setProblem(undefined) }} />
      <EditorButtons problem={problem} onCancel={onDone} onDelete={() => void remove()} />
    </form>
  )
}
