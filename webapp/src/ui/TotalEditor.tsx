// A count's number, opened for correction where it stands.

import { useState } from 'preact/hooks'
import type { Visit } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from './announce'
import { recordTotal } from './correct'
import { useNotebook } from './notebook'
import { failureText } from './words'

interface TotalEditorProps {
  readonly visit: Visit
  readonly cell: string
  /** What is counted, in words. */
  readonly name: string
  readonly most: number
  readonly onDone: () => void
}

export function TotalEditor({ visit, cell, name, most, onDone }: TotalEditorProps) {
  const notebook = useNotebook()
  const [text, setText] = useState(String(Math.max(0, notebook.cell(visit.id, cell).total)))
  const [problem, setProblem] = useState('')
  const save = async (event: Event) => {
    event.preventDefault()
    const wanted = wholeNumber(text, most)
    if (wanted === undefined) return setProblem(t('total.problem', { most }))
    try {
      await recordTotal(notebook, visit, cell, wanted)
      announce(t('total.saved', { name, n: wanted }))
      onDone()
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <form class="card" onSubmit={(event) => void save(event)}>
      <label class="field">
        <span>{t('total.of', { name })}</span>
        <input inputMode="numeric" value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="submit" class="btn">{t('total.save')}</button>
      </div>
    </form>
  )
}

/** The number typed, or undefined where it is none from 0 to `most`. */
export function wholeNumber(text: string, most: number): number | undefined {
  const digits = text.trim()
  if (!/^\d{1,6}$/.test(digits)) return undefined
  const n = Number(digits)
  return n <= most ? n : undefined
}
