// When the last good backup of the farm was made, what keeps the next from being made, and a way to have
// one made now. Where they go is chosen at the shed's own computer.

import { useEffect, useState } from 'preact/hooks'
import { count, hasMessage, type Key, momentName, spanName, t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { askBackups, type Backups, type Told } from './backups'

/** How often it is asked how a backup comes on. */
const askAgain = 2_000
/** A last good backup that is older is worth a word. */
const old = 3 * 86_400_000

export function BackupCard() {
  const { sync, farm } = useNotebook()
  const reached = inReach(sync.value) && !farm.value.madeUp
  const [told, setTold] = useState<Told>('nothing')
  const ask = (what?: 'now' | 'on' | 'off') => void askBackups(what).then(setTold)
  const running = typeof told === 'object' && told.running
  useEffect(() => {
    if (reached) ask()
  }, [reached])
  useEffect(() => {
    if (!running) return
    const timer = setInterval(() => ask(), askAgain)
    return () => clearInterval(timer)
  }, [running])
  if (told === 'nothing') return null
  return (
    <section class="card">
      <h2>{t('backup.title')}</h2>
      {told === 'unreachable' && (
        <>
          <p class="note stop" role="alert">{t('backup.unreachable')}</p>
          <button type="button" class="btn" onClick={() => ask()}>{t('try_again')}</button>
        </>
      )}
      {typeof told === 'object' && told.folder === '' && <p class="note warn">{t('backup.not_chosen')}</p>}
      {typeof told === 'object' && told.folder !== '' && <Standing backups={told} ask={ask} />}
    </section>
  )
}

interface StandingProps {
  readonly backups: Backups
  readonly ask: (what: 'now' | 'on' | 'off') => void
}

function Standing({ backups, ask }: StandingProps) {
  const { folder, on, running, next, good, failure, kept } = backups
  return (
    <>
      <dl class="facts">
        <dt>{t('backup.last')}</dt><dd>{good ? momentName(good.made) : t('never')}</dd>
        <dt>{t('backup.next')}</dt><dd>{on && next > 0 ? momentName(next) : t('never')}</dd>
        <dt>{t('backup.kept')}</dt><dd>{count(kept)}</dd>
      </dl>
      <p class="small">{t('backup.where', { folder })}</p>
      {failure && <Failure {...failure} />}
      {good && <Worries good={good} />}
      <div role="status">{running && <p>{t('backup.running')}</p>}</div>
      <button type="button" class="btn" disabled={running} onClick={() => ask('now')}>{t('backup.now')}</button>
      <button type="button" class="btn quiet" onClick={() => ask(on ? 'off' : 'on')}>{on ? t('backup.turn_off') : t('backup.turn_on')}</button>
    </>
  )
}

function Failure({ when, code, text }: { readonly when: number; readonly code: string; readonly text: string }) {
  const key = `backup.failure.${code}`
  const inWords = hasMessage(key)
  return (
    <div class="note stop">
      <p>{t('backup.failed', { time: momentName(when) })}</p>
      <p>{inWords ? t(key as Key & 'backup.failure.failed') : t('backup.failure.failed')}</p>
      {(!inWords || code === 'faults') && <p class="small" lang="en">{text}</p>}
    </div>
  )
}

function Worries({ good: { made, there, damaged } }: { readonly good: NonNullable<Backups['good']> }) {
  const age = Date.now() - made
  return (
    <>
      {age > old && <p class="note warn">{t('backup.old', { time: spanName(age) })}</p>}
      {!there && <p class="note warn">{t('backup.gone')}</p>}
      {damaged > 0 && <p class="note warn">{t('backup.damaged', { n: damaged })}</p>}
    </>
  )
}
