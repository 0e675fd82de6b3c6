// Phones and people: who has joined, on what, with which rights; and inviting one more.

import { useState } from 'preact/hooks'
import { momentName, t } from '../messages/messages'
import { looked, takeInvitationBack } from '../join/roster'
import { type Problem, problemText } from '../join/problem'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { byPerson, type Waiting } from './invitation'
import { InvitationCard } from './InvitationCard'
import { Invite } from './Invite'
import { PersonCard } from './PersonCard'
import { type AskedRoster, useRoster } from './use_roster'

/** Milliseconds between two questions to the shed: while an invitation is shown its use is waited for. */
const waitingPace = 3_000
const restingPace = 20_000

export function DevicesPage() {
  const may = useRights()
  return (
    <>
      <PageHead title={t('devices.title')} back={href('shed')} />
      <div class="page">{may.manage ? <Devices /> : <p class="say">{t('devices.owner_only')}</p>}</div>
    </>
  )
}

function Devices() {
  const [waiting, setWaiting] = useState<Waiting | undefined>(undefined)
  const asked = useRoster(waiting ? waitingPace : restingPace)
  const { roster, problem } = asked
  if (!roster) return problem ? <NotAsked problem={problem} onRetry={() => void asked.askAgain()} /> : <p class="small" role="status">{t('devices.asking')}</p>
  return (
    <>
      {problem && <NotAsked problem={problem} onRetry={() => void asked.askAgain()} />}
      {roster.restored > 0 && <PutBack at={roster.restored} onLooked={() => void asked.askAgain()} />}
      <div class="columns devices">
        <div>
          {waiting
            ? <InvitationCard waiting={waiting} roster={roster} onDone={() => { setWaiting(undefined); void asked.askAgain() }} />
            : <Invite roster={roster} onInvited={setWaiting} />}
          {!waiting && <OpenInvitations asked={asked} />}
        </div>
        <div>{byPerson(roster).map((one) => <PersonCard key={one.person} of={one} onChanged={() => void asked.askAgain()} />)}</div>
      </div>
    </>
  )
}

/** Who may come stands in the database too: an older copy knows nothing of who was withdrawn after it. */
function PutBack({ at, onLooked }: { readonly at: number; readonly onLooked: () => void }) {
  const [problem, setProblem] = useState('')
  const done = async () => {
    const answer = await looked()
    if (answer.kind === 'ok') onLooked()
    else setProblem(problemText(answer))
  }
  return (
    <section class="note stop">
      <p>{t('devices.restored', { when: momentName(at) })}</p>
      <p>{t('devices.restored.do')}</p>
      {problem !== '' && <p role="alert">{problem}</p>}
      <button type="button" class="btn" onClick={() => void done()}>{t('devices.restored.looked')}</button>
    </section>
  )
}

interface NotAskedProps {
  readonly problem: Problem
  readonly onRetry: () => void
}

function NotAsked({ problem, onRetry }: NotAskedProps) {
  return (
    <div class="note stop" role="alert">
      <p>{problemText(problem)}</p>
      <button type="button" class="btn" onClick={onRetry}>{t('try_again')}</button>
    </div>
  )
}

/** Invitations whose code was shown before, here or on another owner's device. */
function OpenInvitations({ asked: { roster, askAgain } }: { readonly asked: AskedRoster }) {
  const [problem, setProblem] = useState('')
  const now = Date.now() + (useNotebook().sync.value.clockOffset ?? 0)
  const open = roster?.invitations.filter(({ expires }) => expires > now) ?? []
  const takeBack = async (id: string) => {
    const answer = await takeInvitationBack(id)
    setProblem(answer.kind === 'ok' ? '' : problemText(answer))
    await askAgain()
  }
  if (open.length === 0) return null
  return (
    <section class="card">
      <h2>{t('invitations.open')}</h2>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <ul class="rows">
        {open.map(({ id, name, role }) => (
          <li key={id} class="undoable">
            <span><b>{name}</b> <span class="small block">{t(`role.${role}`)}</span></span>
            <button type="button" class="btn" onClick={() => void takeBack(id)}>{t('invitation.take_back')}<span class="unseen"> {name}</span></button>
          </li>
        ))}
      </ul>
    </section>
  )
}
