// One person of the farm: what they may do, and their devices.

import { useState } from 'preact/hooks'
import type { Role } from '../crop/member'
import { problemText } from '../join/problem'
import { giveRole, type JoinedDevice, withdrawPerson } from '../join/roster'
import { listed, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { DeviceLine } from './DeviceLine'
import { type Held, heldBy, type PersonsDevices } from './invitation'
import { RoleChoice } from './RoleChoice'
import { Withdrawing } from './Withdrawing'

interface PersonCardProps {
  readonly of: PersonsDevices
  readonly onChanged: () => void
}

export function PersonCard({ of, onChanged }: PersonCardProps) {
  const [changing, setChanging] = useState(false)
  const self = useNotebook().member.value?.person === of.person
  const coming = of.devices.filter(({ withdrawn }) => withdrawn === 0)
  return (
    <section class="card">
      <div class="undoable person-head">
        <div>
          <h2>{of.name || t('devices.nameless')}</h2>
          <p class="small">{self ? t('devices.self', { role: t(`role.${of.role}`) }) : t(`role.${of.role}`)}</p>
        </div>
        <button type="button" class="btn" aria-expanded={changing} onClick={() => setChanging(!changing)}>
          {t('role.change')}<span class="unseen"> {of.name}</span>
        </button>
      </div>
      {changing && <RoleForm of={of} self={self} onDone={() => { setChanging(false); onChanged() }} />}
      {of.devices.length === 0 && <p class="small">{t('devices.none')}</p>}
      <Devices of={coming} onChanged={onChanged} />
      {!self && coming.length > 1 && <WithdrawAll of={of} coming={coming} onChanged={onChanged} />}
      <Withdrawn of={of.devices.filter(({ withdrawn }) => withdrawn > 0)} onChanged={onChanged} />
    </section>
  )
}

interface DevicesProps {
  readonly of: readonly JoinedDevice[]
  readonly onChanged: () => void
}

function Devices({ of, onChanged }: DevicesProps) {
  if (of.length === 0) return null
  return <ul class="rows device-rows">{of.map((one) => <DeviceLine key={one.device} of={one} onChanged={onChanged} />)}</ul>
}

/** Over the years they become many, and are seldom wanted. */
function Withdrawn({ of, onChanged }: DevicesProps) {
  if (of.length === 0) return null
  return (
    <details class="withdrawn">
      <summary>{t('devices.gone', { n: of.length })}</summary>
      <p class="small">{t('devices.gone.again')}</p>
      <Devices of={of} onChanged={onChanged} />
    </details>
  )
}

interface WithdrawAllProps {
  readonly of: PersonsDevices
  readonly coming: readonly JoinedDevice[]
  readonly onChanged: () => void
}

function WithdrawAll({ of, coming, onChanged }: WithdrawAllProps) {
  const [asking, setAsking] = useState(false)
  const name = of.name || t('devices.nameless')
  return (
    <>
      <button type="button" class="btn" aria-expanded={asking} onClick={() => setAsking(!asking)}>{t('withdraw.all', { name })}</button>
      {asking && (
        <Withdrawing
          sure={t('withdraw.all.sure', { name, labels: listed(coming.map(({ label }) => label)) })} keeps={t('withdraw.all.keeps')}
          unsent={heldText(heldBy(coming))} yes={t('withdraw.all.yes')} done={t('withdraw.all.done', { name })}
          withdraw={() => withdrawPerson(of.person)} onCancel={() => setAsking(false)} onDone={() => { setAsking(false); onChanged() }}
        />
      )}
    </>
  )
}

function heldText({ unsent, silent }: Held): string {
  const parts = [
    ...(unsent > 0 ? [t('withdraw.all.unsent', { n: unsent })] : []),
    ...(silent.length > 0 ? [t('withdraw.all.untold', { labels: listed(silent) })] : []),
  ]
  return parts.join(' ')
}

interface RoleFormProps {
  readonly of: PersonsDevices
  readonly self: boolean
  readonly onDone: () => void
}

function RoleForm({ of, self, onDone }: RoleFormProps) {
  const [role, setRole] = useState<Role>(of.role)
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const save = async (event: Event) => {
    event.preventDefault()
    setBusy(true)
    const answer = await giveRole(of.person, role)
    setBusy(false)
    if (answer.kind === 'ok') onDone()
    else setProblem(problemText(answer))
  }
  return (
    <form class="role-form" onSubmit={(event) => void save(event)}>
      <RoleChoice role={role} onChoose={setRole} />
      {self && role !== 'owner' && <p class="note warn">{t('role.own')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="submit" class="btn" disabled={busy || role === of.role}>{t('role.save')}</button>
      </div>
    </form>
  )
}
