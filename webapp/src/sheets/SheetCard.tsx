// A spreadsheet read in: what it holds, the file, which column is which, how the first rows read, every problem, and what
// taking it in would do, before it is done as one operation that can be undone.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import type { Undoable } from '../ui/use_undoable'
import { type SheetKind, sheetKinds } from './columns'
import { MatchedSheet } from './MatchedSheet'
import { readSheet, type Sheet } from './sheet'

interface Picked {
  readonly name: string
  readonly sheet: Sheet
  /** Another for each choice, so that the same file chosen again is read anew. */
  readonly turn: number
}

export function SheetCard({ doing }: { readonly doing: Undoable }) {
  const [kind, setKind] = useState<SheetKind>('plants')
  const [picked, setPicked] = useState<Picked | 'unreadable' | undefined>(undefined)
  const pick = async (input: HTMLInputElement) => {
    const file = input.files?.[0]
    if (!file) return
    const bytes = await file.arrayBuffer().catch(() => undefined)
    const sheet = bytes && readSheet(new Uint8Array(bytes))
    setPicked(sheet ? { name: file.name, sheet, turn: Date.now() } : 'unreadable')
    input.value = '' // the same file can be chosen again, once it was put right
  }
  return (
    <section class="card sheet-card">
      <h2>{t('sheets.title')}</h2>
      <Choice name={t('sheets.kind')} value={kind} onChoose={setKind} options={sheetKinds.map((one) => [one, t(`sheets.kind.${one}`)] as const)} />
      <p class="small">{t(`sheets.about.${kind}`)}</p>
      {/* The browser's own control would speak the browser's language. */}
      <label class="btn">
        {t('sheets.pick')}
        <input type="file" accept=".csv,.tsv,.txt,text/csv,text/plain,text/tab-separated-values" class="unseen" onChange={(event) => void pick(event.currentTarget)} />
      </label>
      {picked === 'unreadable' && <p class="note stop" role="alert">{t('sheets.unreadable')}</p>}
      {picked !== undefined && picked !== 'unreadable' && (
        <MatchedSheet key={`${kind} ${picked.turn}`} kind={kind} file={picked.name} sheet={picked.sheet} doing={doing} onDone={() => setPicked(undefined)} />
      )}
    </section>
  )
}
