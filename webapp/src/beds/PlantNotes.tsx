// Notes on a plant: short texts with day and person, withdrawn by one tap and brought back by another.

import { useState } from 'preact/hooks'
import { beyondNote, longestNote, noteFacts, noteText } from '../crop/flags'
import type { Farm, Note, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { flaggedBy } from '../ui/FlagChooser'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { failureText } from '../ui/words'

interface PlantNotesProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly mayWrite: boolean
}

export function PlantNotes({ farm, plant, mayWrite }: PlantNotesProps) {
  const notebook = useNotebook()
  const [withdrawn, setWithdrawn] = useState<Note | undefined>(undefined)
  const [problem, setProblem] = useState('')
  /** Whether it is stored. */
  const put = async (note: Note, on: boolean): Promise<boolean> => {
    try {
      await notebook.record(noteFacts(plant.id, note, on))
    } catch (reason) {
      setProblem(failureText(reason))
      return false
    }
    setProblem('')
    setWithdrawn(on ? undefined : note)
    announce(t(on ? 'notes.stored' : 'notes.withdrawn'))
    return true
  }
  const add = (text: string) => put({ day: today.peek(), by: notebook.person.peek(), text: noteText(text) }, true)
  return (
    <section class="notes">
      <h2>{t('notes.title')}</h2>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      {withdrawn && (
        <div class="note undoable">
          <p>{t('notes.withdrawn')}</p>
          <button type="button" class="btn" onClick={() => void put(withdrawn, true)}>{t('undo')}</button>
        </div>
      )}
      {plant.notes.length === 0 && !mayWrite && <p class="small">{t('notes.none')}</p>}
      <ul class="rows">
        {plant.notes.map((note) => (
          <li key={`${note.day} ${note.by} ${note.text}`} class="one-note">
            <div><p class="note-text">{note.text}</p><p class="small">{flaggedBy(farm, note)}</p></div>
            {mayWrite && <button type="button" class="btn" aria-label={t('notes.withdraw.of', { text: note.text.slice(0, 40) })} onClick={() => void put(note, false)}>{t('notes.withdraw')}</button>}
          </li>
        ))}
      </ul>
      {mayWrite && <NewNote onAdd={add} />}
    </section>
  )
}

function NewNote({ onAdd }: { readonly onAdd: (text: string) => Promise<boolean> }) {
  const [text, setText] = useState('')
  const beyond = beyondNote(text)
  const add = async (event: Event) => {
    event.preventDefault()
    if (beyond === 0 && await onAdd(text)) setText('')
  }
  return (
    <form class="new-note" onSubmit={(event) => void add(event)}>
      <label class="field">
        <span>{t('notes.new')}</span>
        <textarea rows={2} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      {beyond > 0 && <p class="note stop" role="alert">{t('notes.too_long', { most: longestNote, n: beyond })}</p>}
      <button type="submit" class="btn" disabled={noteText(text) === '' || beyond > 0}>{t('notes.add')}</button>
    </form>
  )
}
