// One batch of colour cards: what it is good for, and what can be told of it.

import { useEffect, useState } from 'preact/hooks'
import { asPrinted } from '../colourcard/as_printed'
import type { Card } from '../crop/nouns'
import { shownBatch } from '../crop/tag_code'
import { isCharacterised, isRetired, offBy, shownUnits } from '../measuring/known_cards'
import { dateName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { CardColours } from './CardColours'
import { CardDrawing } from './CardDrawing'
import { CardScale } from './CardScale'
import { ageOf, isOld, takenAs } from './cards'
import { type CardChange, useCardChange } from './use_card_change'

interface CardProps {
  readonly card: Card
}

export function CardPage({ card }: CardProps) {
  const may = useRights()
  const changing = useCardChange(card)
  const { said, problem, undo } = changing
  useEffect(() => {
    if (said !== undefined) scrollTo(0, 0) // to what the batch now is, and to the way back
  }, [said])
  return (
    <>
      <PageHead title={t('cards.batch', { batch: shownBatch(card.id) })} back={href('shed', 'cards')} />
      <div class="page">
        <div class="columns">
          <div>
            <CardState card={card} />
            {said !== undefined && (
              <div class="note undoable">
                <p>{said}</p>
                {may.manage && <button type="button" class="btn" onClick={() => void undo()}>{t('undo')}</button>}
              </div>
            )}
            {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
            <CardDrawing labs={card.patches} label={t('cards.drawing')} />
            <Told card={card} />
          </div>
          <div>
            {may.manage ? <Telling card={card} changing={changing} /> : <p class="small">{t('cards.owner')}</p>}
            {isCharacterised(card) && <CardColours card={card} />}
          </div>
        </div>
      </div>
    </>
  )
}

/** The state of a batch in plain sentences, the one that matters most first. */
function CardState({ card }: CardProps) {
  const day = today.value
  if (card.retired !== '' && isRetired(card, day)) return <Say text={t('cards.say.retired', { day: dateName(card.retired) })} />
  const units = shownUnits(offBy(takenAs(card)))
  return (
    <>
      <Say text={isCharacterised(card) ? t(`cards.say.${card.how}`, { units }) : t('cards.say.unknown', { units })} />
      {isOld(card, day) && <p class="note warn">{t('cards.say.old', { n: ageOf(card, day) ?? 0 })}</p>}
      <p class="small">{t('cards.say.units')}</p>
    </>
  )
}

function Told({ card }: CardProps) {
  const age = ageOf(card, today.value)
  return (
    <dl class="facts">
      <dt>{t('cards.fact.printed')}</dt><dd>{card.printed === '' ? t('cards.fact.untold') : dateName(card.printed)}</dd>
      {age !== undefined && age > 0 && <><dt>{t('cards.fact.age')}</dt><dd>{t('cards.age', { n: age })}</dd></>}
      <dt>{t('cards.fact.how')}</dt><dd>{card.how === '' ? t('cards.fact.not_yet') : t(`cards.how.${card.how}`)}</dd>
      {card.measured !== '' && <><dt>{t('cards.fact.measured')}</dt><dd>{dateName(card.measured)}</dd></>}
    </dl>
  )
}

interface TellingProps extends CardProps {
  readonly changing: CardChange
}

/** What an owner may tell of a batch. */
function Telling({ card, changing }: TellingProps) {
  if (isRetired(card, today.value)) return <Retired card={card} changing={changing} />
  return (
    <>
      <Finding card={card} changing={changing} />
      {card.printed === '' && <PrintedOn changing={changing} />}
      <CardScale key={card.scale} card={card} changing={changing} />
      <Retiring card={card} changing={changing} />
    </>
  )
}

/** The ways in which a batch's colours come to be known. */
function Finding({ card, changing }: TellingProps) {
  const takeAsPrinted = () =>
    void changing.change({ patches: asPrinted.patches, se: asPrinted.se, how: 'as_printed', measured: today.peek() }, t('cards.said.as_printed'))
  return (
    <section class="card">
      <h2>{t(isCharacterised(card) ? 'cards.find.again' : 'cards.find')}</h2>
      <p class="small">{t('cards.find.why')}</p>
      <a class="btn tall" href={href('shed', 'cards', card.id, 'photo')}><Icon name="camera" />{t('cards.find.photo')}</a>
      <a class="btn tall" href={href('shed', 'cards', card.id, 'typed')}><Icon name="numbers" />{t('cards.find.typed')}</a>
      {card.how !== 'as_printed' && (
        <>
          <button type="button" class="btn" onClick={takeAsPrinted}>{t('cards.find.as_printed')}</button>
          <p class="small">{t('cards.find.as_printed.note', { units: shownUnits(offBy(asPrinted)) })}</p>
        </>
      )}
    </section>
  )
}

function PrintedOn({ changing }: { readonly changing: CardChange }) {
  const [day, setDay] = useState<string>(today.value)
  const fits = day !== '' && day <= today.value
  return (
    <form class="card" onSubmit={(event) => { event.preventDefault(); if (fits) void changing.change({ printed: day as Card['printed'] }, t('cards.said.printed')) }}>
      <label class="field">
        <span>{t('cards.add.day')}</span>
        <input type="date" value={day} max={today.value} onInput={(event) => setDay(event.currentTarget.value)} />
      </label>
      <button type="submit" class="btn" disabled={!fits}>{t('cards.save')}</button>
    </form>
  )
}

function Retiring({ card, changing }: TellingProps) {
  const retire = () => void changing.change({ retired: today.peek() }, t('cards.said.retired', { batch: shownBatch(card.id) }))
  return (
    <section class="card">
      <h2>{t('cards.retire.title')}</h2>
      <p class="small">{t('cards.retire.note')}</p>
      <button type="button" class="btn" onClick={retire}>{t('cards.retire')}</button>
    </section>
  )
}

function Retired({ card, changing }: TellingProps) {
  const use = () => void changing.change({ retired: '' }, t('cards.said.used', { batch: shownBatch(card.id) }))
  return (
    <section class="card">
      <p>{t('cards.retired.note')}</p>
      <a class="btn tall" href={href('shed', 'cards', 'print')}><Icon name="print" />{t('cards.print')}</a>
      <button type="button" class="btn" onClick={use}>{t('cards.use_again')}</button>
    </section>
  )
}
