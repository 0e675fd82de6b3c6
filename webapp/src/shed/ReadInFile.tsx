// Reads in at the shed a file that a phone saved, of entries or of photos: for a phone that cannot reach the
// shed any more.

import { useState } from 'preact/hooks'
import { hasMessage, type Key, listed, t } from '../messages/messages'
import { type PhotosReadIn, readInPhotos } from '../photos/read_in'
import { type ReadIn, readIn } from '../sync/read_in'

export function ReadInFile() {
  const [outcome, setOutcome] = useState<ReadIn | PhotosReadIn | 'sending' | undefined>(undefined)
  const read = async (input: HTMLInputElement) => {
    const file = input.files?.[0]
    if (!file) return
    setOutcome('sending')
    setOutcome(await (await isZip(file) ? readInPhotos(file) : readIn(file)).catch(unreadable))
    input.value = '' // the same file can be chosen again
  }
  return (
    <div class="read-in">
      {/* The browser's own control would speak the browser's language. */}
      <label class="btn quiet">
        {t('read_in')}
        <input
          type="file" accept=".jsonl,.zip" class="unseen" disabled={outcome === 'sending'}
          onChange={(event) => void read(event.currentTarget)}
        />
      </label>
      <div role="status">{outcome === 'sending' ? <p>{t('read_in.sending')}</p> : outcome && <Outcome outcome={outcome} />}</div>
    </div>
  )
}

/** By its first letters: what a file is called may have changed on its way here. */
async function isZip(file: Blob): Promise<boolean> {
  return (await file.slice(0, 2).text()) === 'PK'
}

/** The file itself cannot be read any more: it was moved, or the stick that holds it was pulled out. */
function unreadable(reason: unknown): ReadIn {
  console.error('reading a saved file', reason)
  return { kind: 'refused', code: 'malformed', text: '' }
}

function Outcome({ outcome }: { readonly outcome: ReadIn | PhotosReadIn }) {
  switch (outcome.kind) {
    case 'taken':
      return (
        <div class={outcome.refused.length > 0 ? 'note warn' : 'note'}>
          <p>{takenText(outcome)}</p>
          {outcome.refused.map(({ code, n }) => <p key={code}>{reasonText(code, n)}</p>)}
        </div>
      )
    case 'photos':
      return <p class={outcome.refused > 0 ? 'note warn' : 'note'}>{photosText(outcome)}</p>
    case 'broke':
      return (
        <div class="note stop">
          <p>{t('read_in.photos.broke', { came: outcome.came, of: outcome.of })}</p>
          {outcome.code !== '' && <p>{refusedText(outcome.code)}</p>}
        </div>
      )
    case 'malformed':
      return <p class="note stop">{t('read_in.code.malformed')}</p>
    case 'unreachable':
      return <p class="note stop">{t('read_in.unreachable')}</p>
    case 'refused':
      return (
        <div class="note stop">
          <p>{refusedText(outcome.code)}</p>
          {outcome.text !== '' && <p class="small" lang="en">{outcome.text}</p>}
        </div>
      )
  }
}

function takenText({ kept, already, refused: reasons }: Extract<ReadIn, { kind: 'taken' }>): string {
  const refused = reasons.reduce((sum, { n }) => sum + n, 0)
  if (kept + already + refused === 0) return t('read_in.empty')
  const parts = [
    ...(kept > 0 ? [t('read_in.kept', { n: kept })] : []),
    ...(already > 0 ? [t('read_in.already', { n: already })] : []),
    ...(refused > 0 ? [t('read_in.refused', { n: refused })] : []),
  ]
  return t('read_in.taken', { what: listed(parts) })
}

function photosText({ kept, already, refused }: Extract<PhotosReadIn, { kind: 'photos' }>): string {
  if (kept + already + refused === 0) return t('read_in.photos.empty')
  const parts = [
    ...(kept > 0 ? [t('read_in.photos.kept', { n: kept })] : []),
    ...(already > 0 ? [t('read_in.photos.already', { n: already })] : []),
    ...(refused > 0 ? [t('read_in.photos.refused', { n: refused })] : []),
  ]
  return t('read_in.taken', { what: listed(parts) })
}

function reasonText(code: string, n: number): string {
  const key = `read_in.reason.${code}`
  return hasMessage(key) ? t(key as Key & 'read_in.reason.count', { n }) : t('read_in.reason.other', { n, code })
}

function refusedText(code: string): string {
  const key = `read_in.code.${code}`
  return hasMessage(key) ? t(key as Key & 'read_in.code.farm') : t('read_in.code.other')
}
