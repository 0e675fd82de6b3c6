// The beginning of a colour session: which card is in hand, and whether it can be relied on.

import type { ComponentChildren } from 'preact'
import type { Bed, CardID } from '../crop/nouns'
import { isCharacterised, stateOfCard } from '../measuring/known_cards'
import { concerns } from '../measuring/live_problems'
import { ProblemNotes } from '../measuring/MeasuredColour'
import { Shooting } from '../measuring/Measuring'
import type { Taken } from '../measuring/taken'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { knownCardText } from './card_text'
import type { ColourSession } from './colour_session'

interface SessionCardProps {
  readonly bed: Bed
  readonly session: ColourSession
}

export function SessionCard({ bed, session }: SessionCardProps) {
  const go = () => session.next(bed.id)
  return (
    <div class="walk session">
      <PageHead title={t('session.title', { bed: bed.name })} back={href('row', 'measure', bed.id, 'plan')}><SyncChip /></PageHead>
      <div class="walk-main">
        <h2>{t('session.card')}</h2>
        <Shooting subject="card" about="card" beside={<button type="button" class="btn tall" onClick={go}>{t('session.skip')}</button>}>
          {({ taken, again }) => <CardTold taken={taken} onAgain={again} onGo={go} />}
        </Shooting>
      </div>
    </div>
  )
}

interface CardToldProps {
  readonly taken: Taken
  readonly onAgain: () => void
  readonly onGo: () => void
}

function CardTold({ taken: { measurement: { card, problems } }, onAgain, onGo }: CardToldProps) {
  const farm = useNotebook().farm.value
  const state = card && stateOfCard(farm, card.batch, today.value)
  const faded = problems.includes('faded_card')
  const known = card && farm.cards.get(card.batch as CardID)
  const others = problems.filter((problem) => concerns(problem, 'card') && !['no_card', 'unknown_card', 'retired_card', 'faded_card'].includes(problem))
  const usable = card !== undefined && state !== 'retired' && !faded
  return (
    <div class="card-told">
      {!card && <Bad>{t('session.card.none')}</Bad>}
      {known && state === 'known' && isCharacterised(known) && (known.how === 'as_printed'
        ? <p class="note warn" role="status">{knownCardText(known, today.value)}</p>
        : <Say text={knownCardText(known, today.value)} />)}
      {card && state === 'unknown' && <p class="note warn" role="status">{t('session.card.unknown', { batch: card.batch })}</p>}
      {card && state === 'retired' && <Bad>{t('session.card.retired', { batch: card.batch, day: dayName(known?.retired ?? '', today.value) })}</Bad>}
      {card && faded && <Bad>{t('session.card.faded', { batch: card.batch })}</Bad>}
      <ProblemNotes problems={others} />
      <div class="act half">
        <button type="button" class={usable ? 'btn tall' : 'btn main'} onClick={onAgain}>{t('session.card.again')}</button>
        <button type="button" class={usable ? 'btn main' : 'btn tall'} onClick={onGo}>{t(usable ? 'session.card.go' : 'session.card.skip')}</button>
      </div>
    </div>
  )
}

function Bad({ children }: { readonly children: ComponentChildren }) {
  return <p class="note stop" role="alert">{children}</p>
}
