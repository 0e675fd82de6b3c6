// The farm as tables for a spreadsheet, each alone or all in one file, in the flavour of one language.

import { useState } from 'preact/hooks'
import { count, type Language, language, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { Icon } from '../ui/Icon'
import { askTables, type TableInfo } from './tables'

export function TablesCard() {
  const [flavour, setFlavour] = useState<Language>(language.value)
  const [told, setTold] = useState<readonly TableInfo[] | 'asking' | 'failed' | undefined>(undefined)
  const ask = (wanted: Language) => {
    setTold('asking')
    void askTables(wanted).then(setTold)
  }
  const choose = (wanted: Language) => {
    setFlavour(wanted)
    if (told !== undefined) ask(wanted)
  }
  return (
    <section class="card">
      <h2>{t('tables.title')}</h2>
      <Choice name={t('tables.flavour')} value={flavour} onChoose={choose} options={[['en', t('tables.flavour.en')], ['es', t('tables.flavour.es')]]} />
      <a class="btn" href={`/api/tables/all.zip?lang=${flavour}`} download><Icon name="save" />{t('tables.all')}</a>
      {/* To count their rows the shed lays out the whole farm: only where somebody looks. */}
      <details onToggle={({ currentTarget: { open } }) => { if (open && told === undefined) ask(flavour) }}>
        <summary>{t('tables.each')}</summary>
        <div role="status">{told === 'asking' && <p class="small">{t('loading')}</p>}</div>
        {told === 'failed' && (
          <>
            <p class="note stop" role="alert">{t('tables.failed')}</p>
            <button type="button" class="btn" onClick={() => ask(flavour)}>{t('try_again')}</button>
          </>
        )}
        {typeof told === 'object' && <Tables tables={told} flavour={flavour} />}
      </details>
    </section>
  )
}

function Tables({ tables, flavour }: { readonly tables: readonly TableInfo[]; readonly flavour: Language }) {
  return (
    <ul class="rows">
      {tables.map(({ table, name, rows }) => (
        <li key={table}>
          <a class="line plain" href={`/api/tables/${table}.csv?lang=${flavour}`} download aria-label={t('tables.one', { name, rows: count(rows) })}>
            <span lang={flavour}>{name}</span><span class="n">{count(rows)}</span>
          </a>
        </li>
      ))}
    </ul>
  )
}
