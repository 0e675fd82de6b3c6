// What stands on a page of the books besides the books: which season, whether the shed answers, and what to know of the sums.

import type { ComponentChildren } from 'preact'
import { t, tCode, hasMessage } from '../messages/messages'
import { ShedFailed } from '../ui/ShedFailed'
import type { Books } from './books'
import { seasonOpen, type Seen } from './use_shelf'

interface BooksShownProps {
  readonly seen: Seen<Books>
  readonly children: (books: Books) => ComponentChildren
}

/** The books once they are there, and otherwise why they are not. */
export function BooksShown({ seen, children }: BooksShownProps) {
  const books = seen.found?.answer
  return (
    <>
      {seen.asking === 'failed' && <ShedFailed onRetry={seen.retry} />}
      {books && <SeasonChoice books={books} />}
      {books ? children(books) : seen.asking !== 'failed' && <p class="say">{t(seen.asking === 'no' ? 'books.offline' : 'books.fetching')}</p>}
    </>
  )
}

function SeasonChoice({ books: { season, seasons } }: { readonly books: Books }) {
  if (seasons.length < 2) return null
  return (
    <div class="choices" role="group" aria-label={t('books.season')}>
      {seasons.map((one) => (
        <button key={one} type="button" class="btn" aria-pressed={one === season} onClick={() => { seasonOpen.value = one }}>{String(one)}</button>
      ))}
    </div>
  )
}

/** What a reader must know of the sums. */
export function Doubts({ books: { all, doubts } }: { readonly books: Books }) {
  const said = Object.entries(doubts).flatMap(([name, n]) => {
    const key = `books.doubt.${name}`
    return n > 0 && hasMessage(key) ? [tCode(key, { n })] : []
  })
  if (all.costs_cents === 0 && all.minutes === 0) said.unshift(t('books.no_costs'))
  return said.length === 0 ? null : <div class="note warn">{said.map((one) => <p key={one}>{one}</p>)}</div>
}
