// Typing a pencil sheet in: a field a plant, in the sheet's order; what was typed is stored when its field is
// left, and when the page goes without that: back gesture, another place, a phone that is put away.

import { useCallback, useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import { type Day, type Farm, mostStems, type PersonID, type Plant } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { failureText, placeName } from '../ui/words'
import { factsForTyped, type Line, lineOf, typed } from './sheet'

interface SheetTypingProps {
  readonly plants: readonly Plant[]
  readonly day: Day
}

export function SheetTyping({ plants, day }: SheetTypingProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const person = notebook.person.value
  const list = useRef<HTMLOListElement>(null)
  const lines = plants.map((plant) => ({ plant, line: lineOf(notebook, farm, plant.id, day) }))
  const told = lines.filter(({ line }) => line.own !== undefined)
  const move = useCallback((from: HTMLInputElement, by: 1 | -1) => {
    const fields = [...list.current?.querySelectorAll('input') ?? []]
    const to = fields[fields.indexOf(from) + by]
    if (to) to.focus()
    else from.blur()
  }, [])
  useEffect(leaveWhenHidden, [])
  return (
    <section class="sheet-typing" aria-label={t('sheet.type')}>
      <h2>{t('sheet.type')}</h2>
      <p class="small">
        {t('sheet.how')} {t('sheet.as', { name: (person !== '' && farm.people.get(person)?.name) || t('visit.somebody') })}{' '}
        <a href={href('shed', 'settings')}>{t('sheet.as.other')}</a>
      </p>
      <p class="sheet-total">
        <b>{t('sheet.total', { n: told.reduce((sum, { line }) => sum + (line.own ?? 0), 0) })}</b>{' '}
        {t('sheet.done', { done: count(told.length), of: count(plants.length) })}
      </p>
      <ol class="rows" ref={list}>
        {lines.map(({ plant, line }) => (
          <Field
            key={`${plant.id} ${day} ${person}`} plant={plant} day={day} person={person} own={line.own} graded={line.graded}
            counted={line.counted} others={othersSaid(farm, line)} onMove={move}
          />
        ))}
      </ol>
    </section>
  )
}

/** What is being typed is left, and so stored, when the phone is put away. */
function leaveWhenHidden(): () => void {
  const leave = () => {
    if (document.visibilityState === 'hidden' && document.activeElement instanceof HTMLInputElement) document.activeElement.blur()
  }
  document.addEventListener('visibilitychange', leave)
  return () => document.removeEventListener('visibilitychange', leave)
}

/** What others recorded at a plant, a line each. */
function othersSaid({ people }: Farm, { others }: Line): string {
  return others.map(({ person, stems }) =>
    t('sheet.other', { name: (person !== '' && people.get(person)?.name) || t('visit.somebody'), n: count(stems) })).join('\n')
}

interface FieldProps extends Pick<Line, 'own' | 'graded' | 'counted'> {
  readonly plant: Plant
  readonly day: Day
  readonly person: PersonID | ''
  readonly others: string
  readonly onMove: (from: HTMLInputElement, by: 1 | -1) => void
}

/** What was typed and could not be stored before the page went: it shows again when the sheet is opened. */
const unstored = new Map<string, string>()

/** Given texts and objects that stay the same, so that storing one number draws its own line alone (ui/rows_redrawn.test.ts). */
function Field({ plant, day, person, own, graded, counted, others, onMove }: FieldProps) {
  const notebook = useNotebook()
  const name = `${plant.id} ${day} ${person}`
  // What is typed and not stored yet; else the number that is stored shows.
  const [text, setText] = useState(() => unstored.get(name))
  const [problem, setProblem] = useState(() => problemOf(text, { graded, counted }))
  const type = (now: string | undefined) => {
    if (now === undefined) unstored.delete(name)
    else unstored.set(name, now)
    setText(now)
  }
  const leave = async () => {
    const now = unstored.get(name)
    if (now === undefined) return setText(undefined)
    const read = typed(now, { graded, counted })
    if ('wrong' in read) return setProblem(problemOf(now, { graded, counted }))
    try {
      await notebook.recordInTurn(() => ({ facts: factsForTyped(notebook, plant.id, day, read.number), alongside: {} }))
      if (unstored.get(name) === now) type(undefined)
      setProblem('')
      announce(t('sheet.stored', { code: plant.code, n: read.number === undefined ? t('sheet.blank') : count(read.number) }))
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  useWhenGoing(text !== undefined, leave)
  const forget = () => {
    type(undefined)
    setProblem('')
  }
  const press = (event: KeyboardEvent & { readonly currentTarget: HTMLInputElement }) => {
    const by = event.key === 'Enter' || event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : undefined
    if (event.key === 'Escape') forget()
    if (by === undefined) return
    event.preventDefault()
    onMove(event.currentTarget, by)
  }
  return (
    <li>
      <label class="sheet-line">
        <span><b>{plant.code}</b><span class="small block">{placeName(plant)}</span></span>
        <span class="small sheet-others">{others}</span>
        <input
          inputMode="numeric" enterKeyHint="next" autocomplete="off" aria-invalid={problem !== ''}
          value={text ?? (own === undefined ? '' : String(own))}
          onInput={(event) => type(event.currentTarget.value)} onBlur={() => void leave()} onKeyDown={press}
        />
        <span class="sheet-stored">{text === undefined && own !== undefined && <Icon name="check" />}</span>
      </label>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </li>
  )
}

function problemOf(text: string | undefined, line: Pick<Line, 'graded' | 'counted'>): string {
  const read = text === undefined ? undefined : typed(text, line)
  return read && 'wrong' in read ? t(`sheet.wrong.${read.wrong}`, { most: mostStems, graded: line.graded }) : ''
}

/** Calls when the field or the whole page goes; a field that holds nothing does not listen to the page. */
function useWhenGoing(holds: boolean, going: () => Promise<void>): void {
  const latest = useRef(going)
  latest.current = going
  useLayoutEffect(() => () => void latest.current(), [])
  useLayoutEffect(() => {
    if (!holds) return undefined
    const go = () => void latest.current()
    window.addEventListener('pagehide', go)
    return () => window.removeEventListener('pagehide', go)
  }, [holds])
}
