// A new colour class made where it is wanted: a name of the grower's own and the nearest swatch.

import { useRef, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { colourFacts } from '../crop/facts'
import type { ColourID, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { swatches } from './swatches'

export function NewColour({ farm }: { readonly farm: Farm }) {
  const notebook = useNotebook()
  const [open, setOpen] = useState(false)
  const [name, setName] = useState('')
  const [swatch, setSwatch] = useState('')
  const [problem, setProblem] = useState('')
  const summary = useRef<HTMLElement>(null)
  const make = async (event: Event) => {
    event.preventDefault()
    const wanted = name.trim().normalize('NFC')
    if (wanted === '' || swatch === '') return
    if ([...farm.colours.values()].some((one) => one.name.toLowerCase() === wanted.toLowerCase())) return setProblem(t('colour.new.taken'))
    try {
      await notebook.record(colourFacts({ id: newUUID() as ColourID, name: wanted, swatch }))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('colour.new.made', { name: wanted }))
    setOpen(false)
    setName('')
    setSwatch('')
    setProblem('')
    summary.current?.focus() // the form is gone
  }
  return (
    <details class="new-colour" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary ref={summary}>{t('colour.new')}</summary>
      <form onSubmit={(event) => void make(event)}>
        <label class="field">
          <span>{t('colour.new.name')}</span>
          <input value={name} maxLength={40} onInput={(event) => { setName(event.currentTarget.value); setProblem('') }} />
        </label>
        <fieldset class="field">
          <legend>{t('colour.new.swatch')}</legend>
          <div class="swatches">
            {swatches.map((one) => (
              <button key={one.name} type="button" class="btn" aria-pressed={swatch === one.swatch} onClick={() => setSwatch(one.swatch)}>
                <Head swatch={one.swatch} size={34} /><span class="small">{t(`swatch.${one.name}`)}</span>
              </button>
            ))}
          </div>
        </fieldset>
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <button type="submit" class="btn tall" disabled={name.trim() === '' || swatch === ''}>{t('colour.new.make')}</button>
      </form>
    </details>
  )
}
