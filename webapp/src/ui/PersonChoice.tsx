// Choosing who one is, from the farm's people or by adding a name.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { personFacts } from '../crop/facts'
import { mayRecordFor } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from './notebook'
import { failureText } from './words'

interface PersonChoiceProps {
  readonly chosen: PersonID | ''
  /** Whether a name may be added. */
  readonly adds: boolean
}

export function PersonChoice({ chosen, adds }: PersonChoiceProps) {
  const notebook = useNotebook()
  const people = [...notebook.farm.value.people.values()].filter(({ id, name }) => name !== '' && mayRecordFor(notebook.member.value, id)).sort((a, b) => a.name.localeCompare(b.name))
  const [name, setName] = useState('')
  const [problem, setProblem] = useState('')
  const choose = (id: PersonID) => notebook.choosePerson(id).catch((reason: unknown) => setProblem(failureText(reason)))
  const add = async (event: Event) => {
    event.preventDefault()
    const id = newUUID() as PersonID
    try {
      await notebook.record(personFacts({ id, name: name.trim() }))
      await choose(id)
      setName('')
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <>
      <div class="choices people">
        {people.map((person) => (
          <button key={person.id} type="button" class="btn tall" aria-pressed={person.id === chosen} onClick={() => void choose(person.id)}>
            {person.name}
          </button>
        ))}
      </div>
      {adds && (
        <form class="person-form" onSubmit={(event) => void add(event)}>
          <label class="field">
            <span>{people.length > 0 ? t('person.other') : t('person.name')}</span>
            <input value={name} autocomplete="name" maxLength={80} onInput={(event) => setName(event.currentTarget.value)} />
          </label>
          <button type="submit" class="btn" disabled={name.trim() === ''}>{t('person.add')}</button>
        </form>
      )}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </>
  )
}
