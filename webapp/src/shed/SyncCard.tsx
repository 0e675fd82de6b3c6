// How the sync stands, in full: what waits, what was refused and why, how to save it, and whether it
// is safe where it is stored.

import { count, dayName, hasMessage, type Key, listed, momentName, spanName, t } from '../messages/messages'
import { type Barred, isLoss, type SyncStatus } from '../sync/notebook'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { Icon } from '../ui/Icon'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SaveEntries, unsentOf } from '../ui/SaveUnsent'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { PhotosWaiting } from './PhotosWaiting'
import { ReadInFile } from './ReadInFile'
import { type RefusedStep, refusedSteps } from './refused'
import { StorageNotes } from './StorageNotes'

/** Milliseconds by which a clock may be off before it is worth a word. */
const clockTolerance = 120_000

/** Whether something is wrong that nobody may overlook: the card then comes before the day's work. */
export function usePressing(): boolean {
  const { sync, barred, storage } = useNotebook()
  return barred.value !== undefined || sync.value.link === 'refused' || sync.value.notKept > 0 || storage.value.some(isLoss)
}

export function SyncCard() {
  const notebook = useNotebook()
  const status = notebook.sync.value
  const farm = notebook.farm.value
  const barred = notebook.barred.value
  const may = useRights()
  return (
    <section class="card">
      <WhatIs of="sent"><h2>{t('sync.title')}</h2></WhatIs>
      {barred ? <NotLetIn barred={barred} /> : <p>{t(`sync.link.${status.link}`)}</p>}
      {status.link === 'refused' && !barred && <RefusedLine code={status.refusal} onRetry={() => notebook.tryAgain()} />}
      <Progress of={status.progress} said="sync.progress" />
      <Progress of={status.outgoing} said="sync.outgoing" />
      <dl class="facts">
        <dt>{t('sync.waiting')}</dt><dd>{count(status.pending)}</dd>
        <dt>{t('sync.on_the_way')}</dt><dd>{count(status.sent)}</dd>
        <dt>{t('sync.safe')}</dt><dd>{count(status.acknowledged)}</dd>
        <dt>{t('sync.level')}</dt><dd>{status.levelAt === 0 ? t('never') : momentName(status.levelAt)}</dd>
      </dl>
      <PhotosWaiting />
      <ClockNote offset={status.clockOffset} />
      <StorageNotes />
      {refusedSteps(status.refused, farm).map((step) => <RefusedNote key={step.key} step={step} />)}
      {unsentOf(status) > 0 && <SaveEntries notebook={notebook} />}
      {may.record && inReach(status) && <ReadInFile />}
    </section>
  )
}

/** What is recorded goes on to be stored: that it is not sent must not be overlooked. */
function NotLetIn({ barred }: { readonly barred: Barred }) {
  return (
    <div class="note stop">
      <p>{t(`barred.${barred}`)}</p>
      <a class="btn" href={href('join')}>{t('join.again')}</a>
    </div>
  )
}

function RefusedLine({ code, onRetry }: { readonly code: string | undefined; readonly onRetry: () => void }) {
  return (
    <>
      <p class="note stop">{refusalText(code)}</p>
      <button type="button" class="btn" onClick={onRetry}>{t('try_again')}</button>
      {code === 'farm' && <a class="btn" href={href('join')}>{t('join.here')}</a>}
    </>
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
