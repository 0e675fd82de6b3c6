// What the scale of a batch measures, since a printer may have made the page larger or smaller.

import { useState } from 'preact/hooks'
import type { Card } from '../crop/nouns'
import { scaleLength } from '../measuring/known_cards'
import { count, t } from '../messages/messages'
import { readNumber, scaleBounds, scaleError } from './cards'
import type { CardChange } from './use_card_change'

interface CardScaleProps {
  readonly card: Card
  readonly changing: CardChange
}

export function CardScale({ card, changing }: CardScaleProps) {
  const [typed, setTyped] = useState(card.scale === 0 ? '' : count(card.scale))
  const [wrong, setWrong] = useState(false)
  const save = (event: Event) => {
    event.preventDefault()
    const measured = readNumber(typed)
    const fits = measured !== undefined && measured >= scaleBounds.least && measured <= scaleBounds.most
    setWrong(!fits)
    if (fits) void changing.change({ scale: measured }, t('cards.said.scale', { mm: count(measured) }))
  }
  return (
    <form class="card" onSubmit={save}>
      <h2>{t('cards.scale')}</h2>
      <p class="small">{scaleSays(card)}</p>
      <label class="field">
        <span>{t('cards.scale.field')}</span>
        <input type="text" inputMode="decimal" autocomplete="off" value={typed} placeholder={String(scaleLength)}
          onInput={(event) => { setTyped(event.currentTarget.value); setWrong(false) }} />
      </label>
      {wrong && <p class="note stop" role="alert">{t('cards.scale.wrong', { least: scaleBounds.least, most: scaleBounds.most })}</p>}
      <button type="submit" class="btn" disabled={typed.trim() === ''}>{t('cards.save')}</button>
    </form>
  )
}

function scaleSays(card: Card): string {
  const off = Math.round(Math.abs(scaleError(card)) * 10) / 10
  if (card.scale === 0) return t('cards.scale.unknown')
  if (off === 0) return t('cards.scale.right')
  return t(scaleError(card) < 0 ? 'cards.scale.small' : 'cards.scale.large', { percent: count(off) })
}
