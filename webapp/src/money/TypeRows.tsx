// Rows typed one after the other by keyboard: Enter writes a row down and begins the next, of the same day.

import { useRef, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { RowID, Statement } from '../crop/money_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import type { Undoable } from '../ui/use_undoable'
import { entered, rowEntry } from './book'
import { type EntryProblem, readRow, type RowForm } from './forms'
import { RowFields } from './RowFields'

interface TypeRowsProps {
  readonly statement: Statement
  /** Of the next row. */
  readonly place: number
  readonly doing: Undoable
}

export function TypeRows({ statement, place, doing }: TypeRowsProps) {
  const { currency } = useNotebook().farm.value.sales.terms
  const [form, setForm] = useState<RowForm>({ day: statement.from, words: '', bunches: '', amount: '', kept: '' })
  const [problem, setProblem] = useState<EntryProblem | undefined>(undefined)
  const [isOpen, setOpen] = useState(place === 1)
  const first = useRef<HTMLInputElement>(null)
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readRow(form)
    if ('problem' in read) return setProblem(read.problem)
    const row = { ...read.entry, id: newUUID() as RowID, statement: statement.id, place, line: '' as const, due: '' as const, settled: false }
    if (!await doing.act(() => ({ ...entered(rowEntry(row)), said: t('money.row.said', { place: String(place), sum: amount(row.cents, currency) }) }))) return
    setForm({ day: form.day, words: '', bunches: '', amount: '', kept: '' })
    first.current?.focus()
  }
  return (
    <details class="card" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t('money.row.new', { place: String(place) })}</summary>
      <form noValidate onSubmit={(event) => void save(event)}>
        <RowFields form={form} first={first} onTell={(part) => { setForm((all) => ({ ...all, ...part })); setProblem(undefined) }} />
        {problem && <p class="note stop" role="alert">{t(`money.problem.${problem}`)}</p>}
        <button type="submit" class="btn save">{t('money.row.save')}</button>
      </form>
    </details>
  )
}
