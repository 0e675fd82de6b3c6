// Colour cards: the farm's batches, what each is good for, and the way to print more.

import { useState } from 'preact/hooks'
import { cardFacts } from '../crop/facts'
import type { Card, CardID, Day } from '../crop/nouns'
import { normalCode, shownBatch } from '../crop/tag_code'
import { isCharacterised, isRetired } from '../measuring/known_cards'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href, route } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { WhatIs } from '../ui/WhatIs'
import { CardDrawing } from './CardDrawing'
import { CardPage } from './CardPage'
import { CardPhotoPage } from './CardPhotoPage'
import { CardPrintPage } from './CardPrintPage'
import { CardTypedPage } from './CardTypedPage'
import { additionProblem, ageOf, cardOf, inOrder, isOld } from './cards'
import './cards.css'

export function CardsPlace() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const [, , batch = '', what] = route.value
  if (batch === 'print' && may.manage) return <CardPrintPage />
  const card = cardOf(farm, batch)
  if (card && what === 'photo' && may.manage) return <CardPhotoPage key={card.id} card={card} />
  if (card && what === 'typed' && may.manage) return <CardTypedPage key={card.id} card={card} />
  return card ? <CardPage key={card.id} card={card} /> : <CardsPage />
}

function CardsPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const cards = inOrder(farm, today.value)
  return (
    <>
      <PageHead title={t('cards.title')} back={href('shed')} />
      <div class="page reading">
        <WhatIs of="card"><p>{t('cards.what')}</p></WhatIs>
        {may.manage ? <a class="btn tall" href={href('shed', 'cards', 'print')}><Icon name="print" />{t('cards.print')}</a> : <p class="small">{t('cards.owner')}</p>}
        {cards.length === 0 && <p class="say">{t('cards.none')}</p>}
        <ul class="rows">{cards.map((card) => <li key={card.id}><CardLine card={card} /></li>)}</ul>
        {may.manage && <PrintedElsewhere />}
      </div>
    </>
  )
}

function CardLine({ card }: { readonly card: Card }) {
  const day = today.value
  const age = ageOf(card, day)
  const retired = isRetired(card, day)
  const needs = retired ? undefined : !isCharacterised(card) ? t('cards.line.unknown') : isOld(card, day) ? t('cards.line.old') : undefined
  return (
    <a class="line card-line" href={href('shed', 'cards', card.id)}>
      <CardDrawing labs={isCharacterised(card) ? card.patches : []} />
      <span>
        <b>{shownBatch(card.id)}</b>
        <span class="small block">{card.printed === '' ? t('cards.printed.unknown') : t('cards.printed', { day: dayName(card.printed, day) })}</span>
        {isCharacterised(card) && <span class="small block">{t(`cards.how.${card.how}`)}</span>}
        {needs !== undefined && <span class="small block card-needs"><Icon name="warn" />{needs}</span>}
      </span>
      <span class="small">
        {t(retired ? 'cards.retired' : 'cards.in_use')}
        {age !== undefined && age > 0 && <span class="block">{t('cards.age', { n: age })}</span>}
      </span>
    </a>
  )
}

/** A batch that the shed's computer printed by its own command, or another farm. */
function PrintedElsewhere() {
  const notebook = useNotebook()
  const [typed, setTyped] = useState('')
  const [printed, setPrinted] = useState<string>(today.value)
  const [problem, setProblem] = useState('')
  const add = async (event: Event) => {
    event.preventDefault()
    const wrong = additionProblem(notebook.farm.peek(), typed, printed, today.value)
    if (wrong) return setProblem(t(`cards.add.problem.${wrong}`))
    const id = normalCode(typed) as CardID
    try {
      await notebook.record(cardFacts({ id, printed: printed as Day }))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('cards.add.done', { batch: shownBatch(id) }))
    go('shed', 'cards', id)
  }
  return (
    <form class="card" onSubmit={(event) => void add(event)}>
      <h2>{t('cards.add')}</h2>
      <div class="bench-choice">
        <label class="field">
          <span>{t('cards.add.code')}</span>
          <input type="text" value={typed} autocapitalize="characters" autocomplete="off" spellcheck={false}
            onInput={(event) => { setTyped(event.currentTarget.value); setProblem('') }} />
        </label>
        <label class="field">
          <span>{t('cards.add.day')}</span>
          <input type="date" value={printed} max={today.value} onInput={(event) => { setPrinted(event.currentTarget.value); setProblem('') }} />
        </label>
      </div>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="submit" class="btn" disabled={typed.trim() === ''}>{t('cards.add.do')}</button>
    </form>
  )
}
