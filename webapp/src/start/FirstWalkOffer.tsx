// The first walk offered to whoever is new here, or to be gone on with.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { FirstWalk } from './first_walk'
import './first-walk.css'

export function FirstWalkOffer() {
  const { farm } = useNotebook()
  const walk = FirstWalk.of(useNotebook())
  if (walk.progress.value?.state === 'left') return <LeftOpen walk={walk} />
  if (!walk.isOffered) return null
  return (
    <section class="card">
      <h2>{t('first_walk.offer')}</h2>
      <p>{t(farm.value.madeUp ? 'first_walk.offer.what' : 'first_walk.offer.own')}</p>
      {!farm.value.madeUp && <p class="small">{t('first_walk.offer.made_up')}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={() => walk.end()}>{t('first_walk.no')}</button>
        <button type="button" class="btn main" onClick={() => walk.begin()}>{t('first_walk.begin')}</button>
      </div>
    </section>
  )
}

function LeftOpen({ walk }: { readonly walk: FirstWalk }) {
  const { steps, step } = walk
  if (!step) return null
  return (
    <section class="card">
      <h2>{t('first_walk')}</h2>
      <p>{t('first_walk.left', { n: steps.indexOf(step) + 1, all: steps.length })}</p>
      <div class="buttons">
        <button type="button" class="btn" onClick={() => walk.end()}>{t('first_walk.finish')}</button>
        <button type="button" class="btn main" onClick={() => walk.resume()}>{t('first_walk.resume')}</button>
      </div>
    </section>
  )
}
