// An invitation, to be scanned or typed on the other phone; says so when it was used, or is over.

import { useEffect, useState } from 'preact/hooks'
import { problemText } from '../join/problem'
import { type Roster, takeInvitationBack, type Trust } from '../join/roster'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useWakeLock } from '../ui/wake'
import { outcomeOf, timeLeft, type Waiting } from './invitation'
import { QrCode } from './QrCode'

interface InvitationCardProps {
  readonly waiting: Waiting
  readonly roster: Roster
  readonly onDone: () => void
}

export function InvitationCard({ waiting, roster, onDone }: InvitationCardProps) {
  useWakeLock() // the other phone needs a moment to see it
  const now = useNow() + (useNotebook().sync.value.clockOffset ?? 0)
  const { invited, person } = waiting
  const name = nameOf(roster, person)
  const outcome = outcomeOf(waiting, roster, now)
  if (outcome.kind === 'used') return <Over text={t('invitation.used', { name: outcome.device.name, label: outcome.device.label })} onDone={onDone} />
  if (outcome.kind === 'expired') return <Over text={t('invitation.expired')} onDone={onDone} />
  if (outcome.kind === 'gone') return <Over text={t('invitation.gone')} onDone={onDone} />
  return (
    <section class="card invitation">
      <h2>{name === '' ? t('invite') : t('invitation.for', { name })}</h2>
      <p class="note warn">{t('invitation.caution')}</p>
      {invited.trust && <TrustFirst trust={invited.trust} />}
      <p>{t('invitation.scan')}</p>
      <QrCode rows={invited.qr} label={t('invitation.qr')} />
      <p>{t('invitation.or_type')}</p>
      <p class="address">{roster.origin}</p>
      <p class="code-large">{invited.code}</p>
      <p class="small">{t('invitation.left', { time: timeLeft(invited.expires - now) })}</p>
      <TakeBack id={invited.id} onDone={onDone} />
    </section>
  )
}

/** A phone that is new here would else be warned by its browser and go no further. */
function TrustFirst({ trust }: { readonly trust: Trust }) {
  return (
    <details>
      <summary>{t('invitation.trust')}</summary>
      <p>{t('invitation.trust.how')}</p>
      <QrCode rows={trust.qr} label={t('invitation.trust.qr')} />
      <p class="address">{trust.link}</p>
      <p class="small">{t('invitation.trust.fingerprint')}</p>
      <p class="fingerprint">{trust.fingerprint}</p>
    </details>
  )
}

function nameOf({ invitations, people }: Roster, person: Waiting['person']): string {
  return [...people, ...invitations].find((one) => one.person === person)?.name ?? ''
}

function Over({ text, onDone }: { readonly text: string; readonly onDone: () => void }) {
  return (
    <section class="card">
      <p role="status">{text}</p>
      <button type="button" class="btn" onClick={onDone}>{t('invitation.close')}</button>
    </section>
  )
}

function TakeBack({ id, onDone }: { readonly id: string; readonly onDone: () => void }) {
  const [problem, setProblem] = useState('')
  const takeBack = async () => {
    const answer = await takeInvitationBack(id)
    if (answer.kind === 'ok') onDone()
    else setProblem(problemText(answer))
  }
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="button" class="btn" onClick={() => void takeBack()}>{t('invitation.take_back')}</button>
    </>
  )
}

/** Ms since 1970, every second. */
function useNow(): number {
  const [now, setNow] = useState(Date.now())
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 1_000)
    return () => clearInterval(timer)
  }, [])
  return now
}
