// Rows pasted as lines of a table: shown as they are read, with what is wrong by line, before anything is written down.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { together } from '../crop/deed'
import type { RowID, Statement } from '../crop/money_nouns'
import { type DayOrder, type LineRead, readPasted } from '../crop/statement_lines'
import type { Day } from '../crop/nouns'
import { dayAndMonth, locale, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import type { Undoable } from '../ui/use_undoable'
import { entered, rowEntry } from './book'
import { SelectField } from './SelectField'

interface PasteRowsProps {
  readonly statement: Statement
  /** Of the first row. */
  readonly place: number
  readonly doing: Undoable
}

export function PasteRows({ statement, place, doing }: PasteRowsProps) {
  const { currency } = useNotebook().farm.value.sales.terms
  const [text, setText] = useState('')
  const [order, setOrder] = useState<DayOrder>(() => orderHere(locale.peek()))
  const lines = readPasted(text, { order, year: Number(statement.from.slice(0, 4)) })
  const read = lines.flatMap((line) => line.read ?? [])
  const wrong = lines.filter((line) => line.problem)
  const save = async () => {
    const rows = read.map((row, i) => ({ ...row, id: newUUID() as RowID, statement: statement.id, place: place + i, line: '' as const, due: '' as const, settled: false }))
    if (await doing.act(() => ({ ...together(...rows.map((row) => entered(rowEntry(row)))), said: t('money.paste.said', { n: rows.length }) }))) setText('')
  }
  return (
    <details class="card paste">
      <summary>{t('money.paste')}</summary>
      <p class="small">{t('money.paste.how')}</p>
      <label class="field">
        <span>{t('money.paste.lines')}</span>
        <textarea rows={6} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <SelectField label={t('money.paste.order')} value={order} options={[['day_first', t('money.paste.day_first')], ['month_first', t('money.paste.month_first')]]} onChoose={(one) => setOrder(one as DayOrder)} />
      {wrong.map((line, i) => <p key={i} class="note stop">{t(`money.paste.problem.${line.problem!}`, { line: line.text })}</p>)}
      {read.length > 0 && <Preview rows={read} currency={currency} />}
      {read.length > 0 && <button type="button" class="btn save" disabled={wrong.length > 0} onClick={() => void save()}>{t('money.paste.save', { n: read.length })}</button>}
    </details>
  )
}

function Preview({ rows, currency }: { readonly rows: readonly LineRead[]; readonly currency: string }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={t('money.paste.read')}>
      <table>
        <caption>{t('money.paste.read')}</caption>
        <thead><tr><th scope="col">{t('money.day')}</th><th scope="col">{t('money.row.words')}</th><th scope="col">{t('money.row.bunches.head')}</th><th scope="col">{t('money.row.amount')}</th><th scope="col">{t('money.row.kept.head')}</th></tr></thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i}>
              <td>{row.date === '' ? t('money.row.no_day') : dayAndMonth(row.date)}</td><td>{row.words}</td><td>{row.bunches}</td>
              <td>{amount(row.cents, currency)}</td><td>{amount(row.kept, currency)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** Which of the two a language writes first. */
function orderHere(its: string): DayOrder {
  const parts = new Intl.DateTimeFormat(its, { day: 'numeric', month: 'numeric', timeZone: 'UTC' }).formatToParts(new Date('2026-06-11' as Day))
  return parts.find(({ type }) => type === 'day' || type === 'month')?.type === 'month' ? 'month_first' : 'day_first'
}
