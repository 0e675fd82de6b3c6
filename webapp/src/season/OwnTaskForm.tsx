// A task in one's own words.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { TaskID } from '../crop/ahead_nouns'
import { parseDay } from '../crop/day'
import type { BedID } from '../crop/nouns'
import { ownDeed } from '../crop/task_deeds'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import type { Undoable } from '../ui/use_undoable'

export function OwnTaskForm({ doing, onDone }: { readonly doing: Undoable; readonly onDone: () => void }) {
  const farm = useNotebook().farm.value
  const [what, setWhat] = useState('')
  const [due, setDue] = useState('')
  const [bed, setBed] = useState<BedID | ''>('')
  const [empty, setEmpty] = useState(false)
  const beds = [...farm.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
  const save = async (event: Event) => {
    event.preventDefault()
    const text = what.trim()
    if (text === '') return setEmpty(true)
    const deed = ownDeed(newUUID() as TaskID, text, parseDay(due) ?? '', bed)
    if (await doing.act(() => ({ ...deed, said: t('tasks.said.own', { what: text }) }))) onDone()
  }
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <label class="field">
        <span>{t('tasks.own.what')}</span>
        <input value={what} maxLength={200} autocomplete="off" onInput={(event) => { setWhat(event.currentTarget.value); setEmpty(false) }} />
      </label>
      <label class="field">
        <span>{t('tasks.own.due')}</span>
        <input type="date" value={due} onInput={(event) => setDue(event.currentTarget.value)} />
      </label>
      <label class="field">
        <span>{t('tasks.own.bed')}</span>
        <select value={bed} onChange={(event) => setBed(event.currentTarget.value as BedID | '')}>
          <option value="">{t('tasks.own.bed.none')}</option>
          {beds.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
        </select>
      </label>
      {empty && <p class="note stop" role="alert">{t('tasks.own.empty')}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="submit" class="btn">{t('tasks.own.save')}</button>
      </div>
    </form>
  )
}
