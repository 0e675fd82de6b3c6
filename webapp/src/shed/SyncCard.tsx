// How the sync stands, in full: what waits, what was refused and why, how to save it, and whether it
// is safe where it is stored.

import { useState } from 'preact/hooks'
import { count, dayName, hasMessage, type Key, listed, momentName, spanName, t } from '../messages/messages'
import type { SyncStatus } from '../sync/notebook'
import { useNotebook } from '../ui/notebook'
import { Icon } from '../ui/Icon'
import { today } from '../ui/today'
import { ReadInFile } from './ReadInFile'
import { type RefusedStep, refusedSteps } from './refused'
import { StorageNotes } from './StorageNotes'

/** Milliseconds by which a clock may be off before it is worth a word. */
const clockTolerance = 120_000

export function SyncCard() {
  const notebook = useNotebook()
  const status = notebook.sync.value
  const farm = notebook.farm.value
  return (
    <section class="card">
      <h2>{t('sync.title')}</h2>
      <p>{t(`sync.link.${status.link}`)}</p>
      {status.link === 'refused' && (
        <>
          <p class="note stop">{refusalText(status.refusal)}</p>
          <button type="button" class="btn" onClick={() => notebook.tryAgain()}>{t('try_again')}</button>
        </>
      )}
      <Progress of={status.progress} said="sync.progress" />
      <Progress of={status.outgoing} said="sync.outgoing" />
      <dl class="facts">
        <dt>{t('sync.waiting')}</dt><dd>{count(status.pending)}</dd>
        <dt>{t('sync.on_the_way')}</dt><dd>{count(status.sent)}</dd>
        <dt>{t('sync.safe')}</dt><dd>{count(status.acknowledged)}</dd>
        <dt>{t('sync.level')}</dt><dd>{status.levelAt === 0 ? t('never') : momentName(status.levelAt)}</dd>
      </dl>
      <ClockNote offset={status.clockOffset} />
      <StorageNotes />
      {refusedSteps(status.refused, farm).map((step) => <RefusedNote key={step.key} step={step} />)}
      {status.pending + status.sent + status.refused.length > 0 && <SaveUnsent />}
      {(status.link === 'live' || status.link === 'catching_up') && <ReadInFile />}
    </section>
  )
}

interface ProgressProps {
  readonly of: SyncStatus['progress']
  readonly said: 'sync.progress' | 'sync.outgoing'
}

function Progress({ of, said }: ProgressProps) {
  if (!of) return null
  return (
    <label class="field">
      <span>{t(said, { done: of.done, total: of.total })}</span>
      <progress class="meter" value={of.done} max={Math.max(1, of.total)} />
    </label>
  )
}

function ClockNote({ offset }: { readonly offset: number | undefined }) {
  if (offset === undefined || Math.abs(offset) < clockTolerance) return null
  return <p class="note warn">{t(offset > 0 ? 'sync.clock.behind' : 'sync.clock.ahead', { time: spanName(Math.abs(offset)) })}</p>
}

function RefusedNote({ step }: { readonly step: RefusedStep }) {
  return (
    <div class="note stop">
      <p><Icon name="warn" /> <b>{aboutText(step)}</b></p>
      {step.codes.map((code) => <p key={code}>{refusedText(code)}</p>)}
    </div>
  )
}

/** "R4K 7M, Wed 3 June: extra, 50 cm: 4". */
function aboutText({ subject, day, counts }: RefusedStep): string {
  const name = subject || t('refused.unnamed')
  const where = day === undefined ? name : t('looks.what', { subject: name, day: dayName(day, today.value) })
  if (counts.length === 0) return where
  const said = counts.map(({ name: cell, n }) => (n === undefined ? cell : t('refused.cell', { cell, n })))
  return t('refused.counts', { where, counts: listed(said) })
}

function refusedText(code: string): string {
  const key = `refused.${code}`
  return hasMessage(key) ? t(key as Key & 'refused.value') : t('refused.other', { code })
}

function refusalText(code: string | undefined): string {
  const key = `refusal.${code ?? ''}`
  return hasMessage(key) ? t(key as Key & 'refusal.version') : t('refusal.other', { code: code ?? '' })
}

function SaveUnsent() {
  const notebook = useNotebook()
  const [problem, setProblem] = useState(false)
  const save = async () => {
    try {
      download(await notebook.unsentFile(), `corymb-${today.value}.jsonl`)
      setProblem(false)
    } catch {
      setProblem(true)
    }
  }
  return (
    <>
      <button type="button" class="btn" onClick={() => void save()}><Icon name="save" />{t('sync.save')}</button>
      {problem && <p class="note stop" role="alert">{t('sync.save.failed')}</p>}
    </>
  )
}

function download(text: string, name: string): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/jsonl' }))
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000)
}
