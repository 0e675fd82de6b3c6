// One person of the farm: what they may do, and their devices.

import { useState } from 'preact/hooks'
import type { Role } from '../crop/member'
import { problemText } from '../join/problem'
import { giveRole } from '../join/roster'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { DeviceLine } from './DeviceLine'
import type { PersonsDevices } from './invitation'
import { RoleChoice } from './RoleChoice'

interface PersonCardProps {
  readonly of: PersonsDevices
  readonly onChanged: () => void
}

export function PersonCard({ of, onChanged }: PersonCardProps) {
  const [changing, setChanging] = useState(false)
  const self = useNotebook().member.value?.person === of.person
  return (
    <section class="card">
      <div class="undoable person-head">
        <div>
          <h2>{of.name || t('devices.nameless')}</h2>
          <p class="small">{self ? t('devices.self', { role: t(`role.${of.role}`) }) : t(`role.${of.role}`)}</p>
        </div>
        {!changing && <button type="button" class="btn" onClick={() => setChanging(true)}>{t('role.change')}<span class="unseen"> {of.name}</span></button>}
      </div>
      {changing && <RoleForm of={of} self={self} onDone={() => { setChanging(false); onChanged() }} />}
      {of.devices.length === 0 && <p class="small">{t('devices.none')}</p>}
      {of.devices.length > 0 && (
        <ul class="rows device-rows">{of.devices.map((one) => <DeviceLine key={one.device} of={one} onChanged={onChanged} />)}</ul>
      )}
    </section>
  )
}

interface RoleFormProps {
  readonly of: PersonsDevices
  readonly self: boolean
  readonly onDone: () => void
}

function RoleForm({ of, self, onDone }: RoleFormProps) {
  const [role, setRole] = useState<Role>(of.role)
  const [problem, setProblem] = useState('')
  const save = async (event: Event) => {
    event.preventDefault()
    const answer = await giveRole(of.person, role)
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
        <button type="submit" class="btn" disabled={role === of.role}>{t('role.save')}</button>
      </div>
    </form>
  )
}
