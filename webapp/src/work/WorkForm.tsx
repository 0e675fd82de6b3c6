// Minutes of work typed by hand, or put right.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { parseDay } from '../crop/day'
import { mayRecordFor } from '../crop/member'
import { mostWorked, type Work, type WorkID, type WorkKind, workKinds } from '../crop/money_nouns'
import type { BedID, PersonID } from '../crop/nouns'
import type { ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { parseMinutes } from './timer'
import { kindWord } from './work_timer'
import { correctedDeed, goneDeed, workedDeed } from './worked'

interface WorkFormProps {
  /** Undefined where it is new. */
  readonly before: Work | undefined
  readonly doing: Undoable
  readonly onDone: () => void
}

export function WorkForm({ before, doing, onDone }: WorkFormProps) {
  const notebook = useNotebook()
  const may = useRights()
  const [work, setWork] = useState<Work>(() => before ?? {
    id: newUUID() as WorkID, date: today.peek(), person: notebook.person.peek(), kind: 'cut', minutes: 0, bed: '', channel: '', note: '',
  })
  const [minutes, setMinutes] = useState(before ? String(before.minutes) : '')
  const [day, setDay] = useState<string>(work.date)
  const [wrong, setWrong] = useState(false)
  const tell = (part: Partial<Work>) => setWork((all) => ({ ...all, ...part }))
  const save = async (event: Event) => {
    event.preventDefault()
    const read = parseMinutes(minutes, mostWorked)
    const date = parseDay(day)
    if (read === undefined || date === undefined || date > today.peek()) return setWrong(true)
    const now: Work = { ...work, minutes: read, date, note: work.note.trim() }
    const said = t('work.said.written', { kind: kindWord(now.kind), n: read })
    if (await doing.act(() => ({ ...(before ? correctedDeed(before, now) : workedDeed(now)), said }))) onDone()
  }
  const remove = async () => {
    if (before && await doing.act(() => ({ ...goneDeed(before.id), said: t('work.said.gone', { kind: kindWord(before.kind), n: before.minutes }) }))) onDone()
  }
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <div class="two-fields">
        <label class="field">
          <span>{t('work.kind')}</span>
          <select value={work.kind} onChange={(event) => tell({ kind: event.currentTarget.value as WorkKind })}>
            {workKinds.map((kind) => <option key={kind} value={kind}>{kindWord(kind)}</option>)}
          </select>
        </label>
        <label class="field">
          <span>{t('work.minutes')}</span>
          <input autocomplete="off" maxLength={8} value={minutes} onInput={(event) => { setMinutes(event.currentTarget.value); setWrong(false) }} />
        </label>
        <label class="field">
          <span>{t('work.day')}</span>
          <input type="date" max={today.value} value={day} onInput={(event) => { setDay(event.currentTarget.value); setWrong(false) }} />
        </label>
        <Who person={work.person} onChoose={(person) => tell({ person })} />
        <label class="field">
          <span>{t('work.bed')}</span>
          <select value={work.bed} onChange={(event) => tell({ bed: event.currentTarget.value as BedID | '' })}><BedOptions /></select>
        </label>
        {may.manage && <ForChannel channel={work.channel} onChoose={(channel) => tell({ channel })} />}
      </div>
      <label class="field">
        <span>{t('work.note')}</span>
        <input value={work.note} maxLength={200} autocomplete="off" onInput={(event) => tell({ note: event.currentTarget.value })} />
      </label>
      {wrong && <p class="note stop" role="alert">{t('work.wrong')}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        {before && <button type="button" class="btn" onClick={() => void remove()}>{t('work.delete')}</button>}
        <button type="submit" class="btn">{t('work.save')}</button>
      </div>
    </form>
  )
}

/** Whose work it is: nobody but an owner writes for an owner. */
function Who({ person, onChoose }: { readonly person: PersonID | ''; readonly onChoose: (person: PersonID | '') => void }) {
  const notebook = useNotebook()
  const people = [...notebook.farm.value.people.values()].filter(({ id, name }) => name !== '' && (id === person || mayRecordFor(notebook.member.value, id)))
  if (people.length < 2 && person !== '') return null
  people.sort((a, b) => a.name.localeCompare(b.name))
  return (
    <label class="field">
      <span>{t('work.who')}</span>
      <select value={person} onChange={(event) => onChoose(event.currentTarget.value as PersonID | '')}>
        {person === '' && <option value="">{t('work.who.untold')}</option>}
        {people.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}

function ForChannel({ channel, onChoose }: { readonly channel: ChannelID | ''; readonly onChoose: (channel: ChannelID | '') => void }) {
  const { channels } = useNotebook().farm.value.sales
  return (
    <label class="field">
      <span>{t('work.channel')}</span>
      <select value={channel} onChange={(event) => onChoose(event.currentTarget.value as ChannelID | '')}>
        <option value="">{t('work.channel.none')}</option>
        {[...channels.values()].sort((a, b) => a.name.localeCompare(b.name)).map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}

export function BedOptions() {
  const beds = [...useNotebook().farm.value.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
  return (
    <>
      <option value="">{t('work.bed.none')}</option>
      {beds.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
    </>
  )
}
