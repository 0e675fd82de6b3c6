// Typing the colours of a batch from an instrument. What is typed is kept on this device until it is saved: whoever
// looks the numbers up in another app comes back to them.

import { useState } from 'preact/hooks'
import type { Card, CardID } from '../crop/nouns'
import { shownBatch } from '../crop/tag_code'
import { locale, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { CardDrawing, fill } from './CardDrawing'
import { colourName, Swatch } from './CardColours'
import { type ColourProblem, emptyTyped, type Part, parts, readTyped, type TypedColour, typedOf } from './card_typed'
import { typedSE } from './cards'
import { useCardChange } from './use_card_change'

/** What was typed and not saved, by this device. */
interface Draft {
  readonly card: CardID
  readonly typed: readonly TypedColour[]
}

const keptDraft = 'cards.typed'

export function CardTypedPage({ card }: { readonly card: Card }) {
  const notebook = useNotebook()
  const { change, problem } = useCardChange(card)
  const [typed, setTyped] = useState(() => begun(card, notebook.kept<Draft | null>(keptDraft)))
  const [pointed, setPointed] = useState<number | undefined>(undefined)
  const [looked, setLooked] = useState(false)
  const read = readTyped(typed)
  const keep = () => void notebook.keep(keptDraft, { card: card.id, typed } satisfies Draft)
  const type = (colour: number, part: Part, text: string) =>
    setTyped((all) => all.map((one, i) => (i === colour ? { ...one, [part]: text } : one)))
  const save = async (event: Event) => {
    event.preventDefault()
    setLooked(true)
    if (!read.labs) return
    const told = { patches: read.labs, se: typedSE, how: 'typed', measured: today.peek() } as const
    if (await change(told, t('cards.said.typed'), { [keptDraft]: null })) go('shed', 'cards', card.id)
  }
  return (
    <>
      <PageHead title={t('cards.typed', { batch: shownBatch(card.id) })} back={href('shed', 'cards', card.id)} />
      <form class="page" onSubmit={(event) => void save(event)} onChange={keep}>
        <div class="card-typed">
          <div class="card-typed-picture"><CardDrawing numbered pointed={pointed} label={t('cards.typed.drawing')} /></div>
          <div class="card-typed-rows">
            <p>{t('cards.typed.how')}</p>
            {typed.map((one, i) => (
              <ColourRow key={i} colour={i} typed={one} problem={looked || !isBlank(one) ? read.problems[i] : undefined} atOnce={looked}
                onPoint={() => setPointed(i)} onType={(part, text) => type(i, part, text)} />
            ))}
            {looked && read.greysOutOfOrder && <p class="note stop" role="alert">{t('cards.typed.order')}</p>}
            {looked && !read.labs && !read.greysOutOfOrder && <p class="note stop" role="alert">{t('cards.typed.look', { n: read.problems.filter((one) => one !== undefined).length })}</p>}
            {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
            <button type="submit" class="btn main">{t('cards.typed.save')}</button>
          </div>
        </div>
      </form>
    </>
  )
}

/** What was typed of this batch before, else the colours that it has, where they were measured. */
function begun(card: Card, draft: Draft | null | undefined): readonly TypedColour[] {
  if (draft?.card === card.id) return draft.typed
  return card.how === 'typed' || card.how === 'beside' ? typedOf(card.patches, locale.peek()) : emptyTyped()
}

function isBlank(typed: TypedColour): boolean {
  return parts.every((part) => typed[part].trim() === '')
}

interface ColourRowProps {
  readonly colour: number
  readonly typed: TypedColour
  readonly problem: ColourProblem | undefined
  /** Whether what is missing is told as well: else it is still being typed. */
  readonly atOnce: boolean
  readonly onPoint: () => void
  readonly onType: (part: Part, text: string) => void
}

function ColourRow({ colour, typed, problem, atOnce, onPoint, onType }: ColourRowProps) {
  const name = colourName(colour)
  const told = problem !== undefined && (atOnce || (problem !== 'missing' && problem !== 'no_number')) ? problem : undefined
  return (
    <fieldset class="card-row" onFocusIn={onPoint}>
      <legend><span class="card-row-number">{colour + 1}</span><Swatch colour={fill([], colour)} />{name}</legend>
      {parts.map((part) => (
        <label key={part} class="field">
          <span>{part}</span>
          <input type="text" inputMode={part === 'L' ? 'decimal' : 'text'} autocomplete="off" value={typed[part]} aria-invalid={told !== undefined}
            onInput={(event) => onType(part, event.currentTarget.value)} />
        </label>
      ))}
      {told && <p class="note stop" role="status">{t(`cards.typed.problem.${told}`, { colour: name })}</p>}
    </fieldset>
  )
}
