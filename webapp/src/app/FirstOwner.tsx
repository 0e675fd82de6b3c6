// The first owner of a fresh farm: who they are, and what the farm is called.

import { useState } from 'preact/hooks'
import { farmFacts, personFacts } from '../crop/facts'
import type { PersonID } from '../crop/nouns'
import { InstallHint } from '../join/InstallHint'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { useNotebook } from '../ui/notebook'
import { go } from '../ui/route'
import { Welcome } from '../ui/Welcome'
import { failureText } from '../ui/words'

/** An owner whose name nobody has told yet. */
export function isNameless({ member, farm }: Notebook): boolean {
  const { person, name, role } = member.value ?? {}
  if (person === undefined || role !== 'owner') return false
  return name === '' && !farm.value.people.get(person)?.name
}

export function FirstOwner({ person }: { readonly person: PersonID }) {
  const notebook = useNotebook()
  const [name, setName] = useState('')
  const [farmName, setFarmName] = useState(notebook.farm.peek().name)
  const [problem, setProblem] = useState('')
  const ready = name.trim() !== '' && farmName.trim() !== ''
  const save = (event: Event) => {
    event.preventDefault()
    if (!ready) return
    const farm = { ...notebook.farm.peek(), name: farmName.trim() }
    // On to what a new farm needs first. Before the names are kept: then this page is gone.
    if (farm.beds.size === 0) go('beds', 'tray')
    const facts = [...personFacts({ id: person, name: name.trim() }), ...farmFacts(farm).filter(({ field }) => field === 'name')]
    notebook.record(facts).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  return (
    <Welcome title={t('first')}>
      <p>{t('first.text')}</p>
      <form class="person-form" onSubmit={save}>
        <label class="field">
          <span>{t('person.name')}</span>
          <input value={name} autocomplete="name" maxLength={80} onInput={(event) => setName(event.currentTarget.value)} />
        </label>
        <label class="field">
          <span>{t('settings.name')}</span>
          <input value={farmName} autocomplete="organization" maxLength={80} onInput={(event) => setFarmName(event.currentTarget.value)} />
        </label>
        <p class="small">{t('first.later')}</p>
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <button type="submit" class="btn main" disabled={!ready}>{t('first.save')}</button>
      </form>
      <InstallHint />
    </Welcome>
  )
}
