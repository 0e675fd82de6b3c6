// The rows of a view with their bars, and their sum, which is the same whatever they are added up by.

import { useState } from 'preact/hooks'
import { count, t } from '../messages/messages'
import { amount } from '../ui/money'
import type { Books, Row } from './books'
import { price } from './books_words'
import { type Bar, barsOf } from './view_table'

interface ViewTableProps {
  readonly books: Books
  readonly name: (key: string) => string
  readonly onKeep: (key: string) => void
}

/** Rows that are shown at once: a farm has hundreds of plants. */
const firstShown = 60

export function ViewTable({ books: { rows, all, unit, currency }, name, onKeep }: ViewTableProps) {
  const [most, setMost] = useState(firstShown)
  const bars = barsOf(rows)
  const more = rows.length - most
  return (
    <>
      <p class="small">{t('books.caption')}</p>
      <div class="scroll" tabIndex={0} role="region" aria-label={t('books.views')}>
        <table class="view">
          <caption class="unseen">{t('books.caption')}</caption>
          <thead><tr><th scope="col"><span class="unseen">{t('books.by')}</span></th>{heads(unit).map((head) => <th key={head} scope="col">{head}</th>)}</tr></thead>
          <tbody>
            {rows.slice(0, most).map((row, i) => (
              <tr key={row.key}>
                <th scope="row">
                  <button type="button" class="keep" aria-label={t('books.keep', { name: name(row.key) })} onClick={() => onKeep(row.key)}>{name(row.key)}</button>
                  <RowBar bar={bars[i]!} />
                </th>
                <Figures row={row} currency={currency} />
              </tr>
            ))}
          </tbody>
          <tfoot><tr><th scope="row">{t('books.all')}</th><Figures row={all} currency={currency} /></tr></tfoot>
        </table>
      </div>
      {more > 0 && <button type="button" class="btn" onClick={() => setMost(rows.length)}>{t('books.more', { n: more })}</button>}
    </>
  )
}

function heads(unit: string): string[] {
  return [
    t('books.col.left'), t('books.col.sold'), t('books.col.stems'), t('books.col.stem'),
    t(unit === 'ft' ? 'books.col.foot' : 'books.col.metre'), t('books.col.plant'), t('books.col.hour'),
  ]
}

function Figures({ row, currency }: { readonly row: Row; readonly currency: string }) {
  return (
    <>
      <td><b>{amount(row.left_cents, currency)}</b></td>
      <td>{amount(row.gross_cents, currency)}</td>
      <td>{count(row.stems)}</td>
      <td>{price(row.price_a_stem, currency)}</td>
      <td>{price(row.ground?.left_a_length, currency)}</td>
      <td>{price(row.ground?.left_a_plant, currency)}</td>
      <td>{price(row.an_hour, currency)}</td>
    </>
  )
}

function RowBar({ bar: { sold, left, lacks } }: { readonly bar: Bar }) {
  return (
    <span class="sum-track" aria-hidden="true">
      <span class={`sum-bar ${lacks ? 'hatched' : 'full'}`} style={{ width: `${left}%` }} />
      <span class="sum-bar line" style={{ width: `${sold}%` }} />
    </span>
  )
}
