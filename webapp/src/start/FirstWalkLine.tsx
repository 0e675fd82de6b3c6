// Over every place while the first walk goes: what was done, what is next in a sentence, and the ways out of it. Where an own
// farm's first bed is planted, it is offered.

import { useEffect, useId, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href, route } from '../ui/route'
import { Marked } from '../ui/Say'
import { failureText } from '../ui/words'
import { FirstWalk } from './first_walk'
import './first-walk.css'
import { isAt, pageOf, plantsAsked, type Step } from './walk_steps'

export function FirstWalkLine() {
  const notebook = useNotebook()
  const walk = FirstWalk.of(notebook)
  useEffect(() => walk.follow(), [walk])
  if (walk.isOffered && !notebook.farm.value.madeUp && isAt('bed', route.value)) return <Offered walk={walk} />
  if (walk.progress.value?.state !== 'going') return null
  const step = walk.step
  const failure = walk.failure.value
  return (
    <section class="first-walk" aria-label={t('first_walk')}>
      <div role="status">
        {step ? <Now walk={walk} step={step} /> : <p><b>{t('first_walk.end')}</b> {notebook.farm.value.madeUp ? t('first_walk.end.own') : t('first_walk.end.made_up')}</p>}
        {failure !== undefined && <p>{failureText(failure)}</p>}
      </div>
      {step
        ? <Ways key={step} walk={walk} step={step} />
        : <p class="first-walk-ways"><button type="button" class="first-walk-way" onClick={() => walk.end()}>{t('first_walk.close')}</button></p>}
    </section>
  )
}

/** Where the step is taken they are folded away: there the room is the page's. */
function Ways({ walk, step }: { readonly walk: FirstWalk; readonly step: Step }) {
  const here = isAt(step, route.value)
  const [unfolded, setUnfolded] = useState(false)
  const id = useId()
  return (
    <>
      {here && (
        <button type="button" class="first-walk-fold" aria-label={t('first_walk.ways')} aria-expanded={unfolded} aria-controls={unfolded ? id : undefined} onClick={() => setUnfolded(!unfolded)}>
          <Icon name="down" />
        </button>
      )}
      {(!here || unfolded) && (
        <p id={id} class="first-walk-ways">
          {!here && <a class="first-walk-way" href={href(...pageOf[step])}>{t('first_walk.show')}</a>}
          <button type="button" class="first-walk-way" onClick={() => walk.skip(step)}>{t('first_walk.skip')}</button>
          <button type="button" class="first-walk-way" onClick={() => walk.leave()}>{t('first_walk.later')}</button>
        </p>
      )}
    </>
  )
}

function Offered({ walk }: { readonly walk: FirstWalk }) {
  return (
    <section class="first-walk" aria-label={t('first_walk')}>
      <p><b>{t('first_walk.offer')}</b> {t('first_walk.offer.own')}</p>
      <p class="first-walk-ways">
        <button type="button" class="first-walk-way" onClick={() => walk.begin()}>{t('first_walk.begin')}</button>
        <button type="button" class="first-walk-way" onClick={() => walk.end()}>{t('first_walk.no')}</button>
      </p>
    </section>
  )
}

function Now({ walk, step }: { readonly walk: FirstWalk; readonly step: Step }) {
  const { madeUp } = useNotebook().farm.value
  const { steps, doneLast } = walk
  const at = steps.indexOf(step)
  const isNext = doneLast !== undefined && steps.indexOf(doneLast) === at - 1
  return (
    <p>
      {isNext && <>{t(`first_walk.done.${doneLast}`)} </>}
      <b>{t('first_walk.step', { n: at + 1, all: steps.length })}</b>{' '}
      <Marked text={t(step === 'bed' && !madeUp ? 'first_walk.do.bed.own' : `first_walk.do.${step}`)} />
      {step === 'count' && walk.counted > 0 && <> {t('first_walk.counted', { n: walk.counted, all: plantsAsked })}</>}
    </p>
  )
}
