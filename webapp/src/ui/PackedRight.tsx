// What one device packed for a line, opened to be put right: its bunches, and the stems of each lot.

import { useState } from 'preact/hooks'
import { mostBenchStems } from '../crop/nouns'
import { mostBunches, type Packed } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { announce } from './announce'
import { lotWritten } from './lot_words'
import { useNotebook } from './notebook'
import { recordPacked } from './packed_right'
import { wholeNumber } from './TotalEditor'
import { failureText } from './words'

interface PackedRightProps {
  readonly packed: Packed
  readonly onDone: () => void
}

export function PackedRight({ packed, onDone }: PackedRightProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [shown] = useState<ReadonlyMap<string, string>>(() => new Map([['bunches', String(packed.bunches)], ...[...packed.stems].map(([cell, n]) => [cell, String(n)] as const)]))
  const [typed, setTyped] = useState(shown)
  const [problem, setProblem] = useState('')
  const save = async (event: Event) => {
    event.preventDefault()
    // What was not typed over stays as it stands: others may have packed since this was opened.
    const wanted = new Map<string, number | undefined>()
    for (const [cell, text] of typed) {
      const most = cell === 'bunches' ? mostBunches : mostBenchStems
      const n = wholeNumber(text, most)
      if (n === undefined) return setProblem(t('total.problem', { most }))
      wanted.set(cell, text === shown.get(cell) ? undefined : n)
    }
    try {
      await recordPacked(notebook, packed, wanted)
      announce(t('packed_right.saved'))
      onDone()
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      {[...typed].map(([cell, text]) => (
        <label key={cell} class="field">
          <span>{cell === 'bunches' ? t('packed_right.bunches') : t('packed_right.stems', { lot: lotWritten(farm, cell) })}</span>
          <input inputMode="numeric" value={text} onInput={(event) => setTyped(new Map(typed).set(cell, event.currentTarget.value))} />
        </label>
      ))}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="submit" class="btn">{t('total.save')}</button>
      </div>
    </form>
  )
}
