// Whom to invite, and as what.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { personFacts } from '../crop/facts'
import type { Role } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import { problemText } from '../join/problem'
import { invite, type Roster } from '../join/roster'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import type { Waiting } from './invitation'
import { RoleChoice } from './RoleChoice'

interface InviteProps {
  readonly roster: Roster
  readonly onInvited: (waiting: Waiting) => void
}

export function Invite(props: InviteProps) {
  const [open, setOpen] = useState(false)
  if (!open) return <button type="button" class="btn main" onClick={() => setOpen(true)}>{t('invite')}</button>
  return <InviteForm {...props} onCancel={() => setOpen(false)} />
}

function InviteForm({ roster, onInvited, onCancel }: InviteProps & { readonly onCancel: () => void }) {
  const notebook = useNotebook()
  const people = [...notebook.farm.value.people.values()].filter(({ name }) => name !== '').sort((a, b) => a.name.localeCompare(b.name))
  const [chosen, setChosen] = useState<PersonID | ''>('')
  const [newName, setNewName] = useState('')
  const [role, setRole] = useState<Role>('crew')
  const [problem, setProblem] = useState('')
  const [busy, setBusy] = useState(false)
  // A name that is there already is that person.
  const person = people.find(({ id, name }) => (chosen === '' ? name === newName.trim() : id === chosen))
  const name = person?.name ?? newName.trim()
  const standing = roster.people.find((one) => one.person === person?.id)

  const make = async () => {
    const id = person?.id ?? (newUUID() as PersonID)
    if (!person) await notebook.record(personFacts({ id, name }))
    const answer = await invite(id, name, standing?.role ?? role)
    if (answer.kind !== 'ok') return setProblem(problemText(answer))
    onInvited({ invited: answer.value, person: id, before: roster })
  }
  const send = async (event: Event) => {
    event.preventDefault()
    setBusy(true)
    setProblem('')
    await make().catch((reason: unknown) => setProblem(failureText(reason)))
    setBusy(false)
  }
  return (
    <form class="card" onSubmit={(event) => void send(event)}>
      <h2>{t('invite')}</h2>
      <label class="field">
        <span>{t('invite.who')}</span>
        <select value={chosen} onChange={(event) => setChosen(event.currentTarget.value as PersonID | '')}>
          <option value="">{t('invite.new')}</option>
          {people.map((one) => <option key={one.id} value={one.id}>{one.name}</option>)}
        </select>
      </label>
      {chosen === '' && (
        <label class="field">
          <span>{t('invite.name')}</span>
          <input value={newName} maxLength={80} autocomplete="off" onInput={(event) => setNewName(event.currentTarget.value)} />
        </label>
      )}
      {standing ? <p class="small">{t('invite.as_before', { name, role: t(`role.${standing.role}`) })}</p> : <RoleChoice role={role} onChoose={setRole} />}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
        <button type="submit" class="btn" disabled={name === '' || busy}>{t('invite.make')}</button>
      </div>
    </form>
  )
}
