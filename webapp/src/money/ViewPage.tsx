// The books added up by anything, of anything: a table that is its own picture.

import { useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { download } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { type Books, type Dim, dims, isDim, queryOf, shelf } from './books'
import { keyName } from './books_words'
import { BooksShown, Doubts } from './BooksShown'
import { SelectField } from './SelectField'
import { DayBounds } from './DayBounds'
import { allDays, type Days, daysAsked } from './days_asked'
import { seasonOpen, useShelf, whence } from './use_shelf'
import { rowsOf, viewCSV } from './view_table'
import { ViewTable } from './ViewTable'

type Keep = Readonly<Partial<Record<Dim, string>>>

export function ViewPage({ start }: { readonly start: string }) {
  const [by, setBy] = useState<Dim>(isDim(start) ? start : 'channel')
  const [keep, setKeep] = useState<Keep>({})
  const [days, setDays] = useState<Days>(allDays)
  const asked = daysAsked(days)
  const seen = useShelf(shelf, queryOf({ by, season: seasonOpen.value, keep, ...asked }))
  const without = (dim: Dim) => setKeep(({ [dim]: _, ...others }) => others)
  return (
    <>
      <PageHead title={t('books.views')} back={href('money')}>
        <span class="aside whence" role="status">{whence(seen)}</span>
      </PageHead>
      <div class="page money">
        <div class="season-choice">
          <SelectField label={t('books.by')} value={by} options={dims.map((dim) => [dim, t(`books.by.${dim}`)])} onChoose={(name) => isDim(name) && setBy(name)} />
        </div>
        <DayBounds days={days} onChange={setDays} />
        <Kept keep={keep} onRemove={without} />
        <BooksShown seen={seen}>{(books) => <View books={books} by={by} onKeep={(key) => setKeep({ ...keep, [by]: key })} />}</BooksShown>
      </div>
    </>
  )
}

/** What alone is kept, each to be let go. */
function Kept({ keep, onRemove }: { readonly keep: Keep; readonly onRemove: (dim: Dim) => void }) {
  const farm = useNotebook().farm.value
  const kept = dims.flatMap((dim) => (keep[dim] === undefined ? [] : [{ dim, name: `${t(`books.by.${dim}`)}: ${keyName(farm, dim, keep[dim])}` }]))
  if (kept.length === 0) return null
  return (
    <div class="choices kept" role="group" aria-label={t('books.keeps')}>
      {kept.map(({ dim, name }) => (
        <button key={dim} type="button" class="btn" aria-label={t('books.unkeep', { name })} onClick={() => onRemove(dim)}>{name} <span aria-hidden="true">×</span></button>
      ))}
    </div>
  )
}

interface ViewProps {
  readonly books: Books
  readonly by: Dim
  readonly onKeep: (key: string) => void
}

function View({ books, by, onKeep }: ViewProps) {
  const farm = useNotebook().farm.value
  const shown = { ...books, rows: rowsOf(by, books.rows) }
  if (shown.rows.length === 0) return <p class="say">{t('books.none_such')}</p>
  return (
    <>
      <ViewTable books={shown} name={(key) => keyName(farm, by, key)} onKeep={onKeep} />
      <p class="small">{t('books.notes')}</p>
      <Doubts books={books} />
      <button type="button" class="btn" onClick={() => save(farm, by, shown)}><Icon name="save" />{t('books.csv')}</button>
    </>
  )
}

function save(farm: Farm, by: Dim, shown: Books): void {
  const text = viewCSV(shown, (key) => keyName(farm, by, key), t('books.all'))
  download(new Blob([text], { type: 'text/csv;charset=utf-8' }), `money-${shown.season}-${by}.csv`)
}
