// The photos of a card, and of each what it tells or why it tells nothing.

import { shownBatch } from '../crop/tag_code'
import { shownUnits } from '../measuring/known_cards'
import { uncertaintyOf } from '../measuring/uncertainty'
import { listed, t } from '../messages/messages'
import type { CardPhoto } from './card_photo'

export function CardPhotoList({ photos }: { readonly photos: readonly CardPhoto[] }) {
  if (photos.length === 0) return null
  return (
    <section aria-live="polite">
      <h2>{t('cards.photo.photos')}</h2>
      <ul class="rows card-photos">
        {photos.map(({ id, state }, i) => <li key={id}><b>{t('cards.photo.nth', { n: i + 1 })}</b><Told state={state} /></li>)}
      </ul>
    </section>
  )
}

function Told({ state }: { readonly state: CardPhoto['state'] }) {
  if (state === 'measuring') return <p class="small">{t('cards.photo.measuring')}</p>
  if ('failed' in state) return <p class="note stop">{t(`cards.photo.failed.${state.failed}`)}</p>
  const { patches, ses, problems, reference } = state.seen
  if (!patches) return <p class="note stop">{problems.map((problem) => t(`cards.photo.problem.${problem}`)).join(' ')}</p>
  const units = shownUnits(Math.sqrt(patches.reduce((sum, lab, k) => sum + uncertaintyOf(lab, ses[k]!) ** 2, 0) / patches.length))
  return (
    <>
      <p class="small">{reference === '' ? t('cards.photo.told.patch', { units }) : t('cards.photo.told.card', { units, batch: shownBatch(reference) })}</p>
      {problems.length > 0 && <p class="note warn">{listed(problems.map((problem) => t(`cards.photo.problem.${problem}`)))}</p>}
    </>
  )
}
