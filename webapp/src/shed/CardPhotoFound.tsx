// What the photos of a card come to, colour by colour beside what was sent to the printer, to be taken or left.

import { asPrinted } from '../colourcard/as_printed'
import type { CardColours } from '../colourcard/characterise'
import { offBy, shownUnits } from '../measuring/known_cards'
import { uncertaintyOf } from '../measuring/uncertainty'
import { t } from '../messages/messages'
import { Say } from '../ui/Say'
import { fill } from './CardDrawing'
import { colourName, Swatch, tenths } from './CardColours'
import { parts } from './card_typed'

interface CardPhotoFoundProps {
  readonly found: CardColours
  readonly onAccept: () => void
}

export function CardPhotoFound({ found, onAccept }: CardPhotoFoundProps) {
  const units = shownUnits(offBy(found))
  return (
    <section class="card">
      <h2>{t('cards.photo.found')}</h2>
      <Say text={t('cards.photo.found.say', { units, printed: shownUnits(offBy(asPrinted)) })} />
      {!found.agree && <p class="note warn">{t('cards.photo.found.apart')}</p>}
      {found.se >= asPrinted.se && <p class="note warn">{t('cards.photo.found.poor')}</p>}
      <FoundColours found={found} />
      <button type="button" class="btn main" onClick={onAccept}>{t('cards.photo.accept')}</button>
      <p class="small">{t('cards.photo.accept.note')}</p>
    </section>
  )
}

function FoundColours({ found: { patches, ses } }: { readonly found: CardColours }) {
  return (
    <table class="card-colours card-found">
      <caption class="small">{t('cards.photo.found.caption')}</caption>
      <thead><tr><th scope="col">{t('cards.colours.colour')}</th>{parts.map((part) => <th key={part} scope="col">{part}</th>)}<th scope="col">±</th></tr></thead>
      <tbody>
        {patches.map((lab, i) => (
          <tr key={i}>
            <th scope="row"><span class="card-pair"><Swatch colour={fill(patches, i)} /><Swatch colour={fill([], i)} /></span>{colourName(i)}</th>
            {parts.map((part) => <td key={part}><b>{tenths(lab[part])}</b><span class="small block"><span class="unseen">{t('cards.photo.found.printed')} </span>{tenths(asPrinted.patches[i]![part])}</span></td>)}
            <td>{tenths(uncertaintyOf(lab, ses[i]!))}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
