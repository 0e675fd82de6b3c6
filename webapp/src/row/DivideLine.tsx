// One plant of the list: what becomes of it and why, doing it, putting it off, or saying why it cannot be.

import { useState } from 'preact/hooks'
import { together } from '../crop/deed'
import { couldNotBe, type Hindrance, hindrances, markDone, type ToDo } from '../crop/intents'
import { mayDivide, takeOut } from '../crop/lineage'
import { parseWhy } from '../crop/why'
import { dayName, t } from '../messages/messages'
import { doText, hindranceText, whyText } from '../ui/division_words'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { colourName, swatchOf, whereStands } from '../ui/words'
import type { DivideLater } from './divide_walk'

interface DivideLineProps {
  readonly todo: ToDo
  readonly open: boolean
  readonly later: DivideLater
  readonly doing: Undoable
  readonly onOpen: (on: boolean) => void
  /** The next one is to be opened. */
  readonly onDone: () => void
}

export function DivideLine(props: DivideLineProps) {
  const farm = useNotebook().farm.value
  const { todo: { plant, intent, is }, open, later, onOpen } = props
  const state = is === 'to_enter' ? t('division.walk.done_on', { day: dayName(intent.done, today.value), who: (intent.person !== '' && farm.people.get(intent.person)?.name) || t('division.walk.somebody') })
    : later.has(plant.id) ? t('division.walk.later') : ''
  return (
    <li class="divide-line">
      <button type="button" class="divide-what" aria-expanded={open} onClick={() => onOpen(!open)}>
        <Head swatch={swatchOf(farm, plant)} size={44} />
        <span>
          <b>{doText(intent)}</b>
          <span class="block">{plant.code} · {whereStands(farm, plant)}</span>
          <span class="small block">{state === '' ? colourName(farm, plant) : state}</span>
        </span>
        <Icon name={open ? 'up' : 'down'} />
      </button>
      {open && <Opened {...props} />}
    </li>
  )
}

function Opened(props: DivideLineProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const [asking, setAsking] = useState(false)
  const { todo: { plant, intent, is }, later } = props
  const put = (on: boolean) => {
    void later.set(plant.id, on)
    props.onDone()
  }
  return (
    <div class="divide-open">
      {intent.why.length > 0 && <p>{intent.why.map((word) => whyText(farm, parseWhy(word))).join(' ')}</p>}
      {intent.do === 'divide' && mayDivide(farm, plant) === 'protected'
        ? <p class="note stop">{t('division.protected.text')}</p>
        : <Act {...props} />}
      <div class="buttons">
        {is === 'open' && <button type="button" class="btn" onClick={() => put(!later.has(plant.id))}>{t(later.has(plant.id) ? 'division.walk.not_later' : 'division.walk.skip')}</button>}
        {may.manage && <button type="button" class="btn" aria-expanded={asking} onClick={() => setAsking(!asking)}>{t('division.walk.cannot')}</button>}
      </div>
      {asking && <Cannot {...props} />}
    </div>
  )
}

/**
 * Lifting is entered here by one tap, by crew too, who may say that a plant is gone. Divisions need places and codes: an
 * owner enters them, and crew say that it is done.
 */
function Act({ todo: { plant, intent, is }, doing, onDone }: DivideLineProps) {
  const notebook = useNotebook()
  const may = useRights()
  const mark = async (out: boolean) => {
    const stored = await doing.act((now) => {
      const it = now.plants.get(plant.id)
      if (!it || it.removed !== '') return t('lineage.changed')
      const decided = markDone(intent, today.peek(), notebook.person.peek())
      const deed = out ? together(takeOut([it], today.peek()), decided) : decided
      return { ...deed, said: t(out ? `division.walk.out.${intent.do === 'replace' ? 'replace' : 'lift'}` : 'division.walk.marked', { code: it.code }) }
    })
    if (stored) onDone()
  }
  if (intent.do !== 'divide') return <button type="button" class="btn main" onClick={() => void mark(true)}>{t('division.walk.is_out')}</button>
  if (may.manage) return <a class="btn main" href={href('beds', 'divide', plant.id)}>{doText(intent)}</a>
  return is === 'open'
    ? <><button type="button" class="btn main" onClick={() => void mark(false)}>{t('division.walk.is_divided')}</button><p class="small">{t('division.walk.owner_enters')}</p></>
    : null
}

function Cannot({ todo: { plant, intent }, doing, onDone }: DivideLineProps) {
  const say = async (hindrance: Hindrance) => {
    const stored = await doing.act(() => ({ ...couldNotBe(intent, hindrance), said: t('division.walk.stays', { code: plant.code, why: hindranceText(hindrance) }) }))
    if (stored) onDone()
  }
  return (
    <div class="choices" role="group" aria-label={t('division.walk.cannot')}>
      {hindrances.map((one) => <button key={one} type="button" class="btn" onClick={() => void say(one)}>{hindranceText(one)}</button>)}
    </div>
  )
}
