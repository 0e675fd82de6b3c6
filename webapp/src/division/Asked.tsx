// What is asked of the plan, and asking the shed.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { goalText } from '../ui/division_words'
import { useNotebook } from '../ui/notebook'
import { ShedFailed } from '../ui/ShedFailed'
import { Stepper } from '../ui/Stepper'
import { type DivisionPlan, placesBetween, type Question, sameQuestion } from './division_plan'

const goals = [1, 1.25, 1.5, 2]
const seasons = [1, 2, 3]

interface AskedProps {
  readonly plan: DivisionPlan
}

export function Asked({ plan }: AskedProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const asked = plan.question(farm)
  const change = (part: Partial<Question>) => void plan.ask(part)
  return (
    <section class="card asked">
      <Goal goal={asked.goal} change={change} />
      <div class="field">
        <span id="division-seasons">{t('division.in')}</span>
        <div class="choices" role="group" aria-labelledby="division-seasons">
          {seasons.map((n) => <button key={n} type="button" class="btn" aria-pressed={asked.seasons === n} onClick={() => change({ seasons: n })}>{t('division.seasons', { n })}</button>)}
        </div>
      </div>
      <Stepper label={t('division.places')} value={asked.places} step={stepFrom(asked.places)} least={0} most={100_000} onChange={(places) => change({ places })} />
      <p class="small">{t('division.places.why', { n: placesBetween(farm) })}</p>
      <Stepper label={t('division.hours')} value={asked.hours} step={asked.hours < 8 ? 1 : 4} least={0} most={2_000} onChange={(hours) => change({ hours })} />
      <Stepper label={t('division.most')} value={asked.most} step={1} least={2} most={12} onChange={(most) => change({ most })} />
      <Asking plan={plan} asked={asked} />
    </section>
  )
}

function Goal({ goal, change }: { readonly goal: number; readonly change: (part: Partial<Question>) => void }) {
  const [own, setOwn] = useState(!goals.includes(goal))
  return (
    <div class="field">
      <span id="division-goal">{t('division.goal')}</span>
      <div class="choices" role="group" aria-labelledby="division-goal">
        {goals.map((one) => (
          <button key={one} type="button" class="btn" aria-pressed={!own && goal === one} onClick={() => { setOwn(false); change({ goal: one }) }}>{goalText(one)}</button>
        ))}
        <button type="button" class="btn" aria-pressed={own} onClick={() => setOwn(true)}>{t('division.goal.own')}</button>
      </div>
      {own && <Stepper label={t('division.goal.own.label')} value={goal} step={0.05} least={0.5} most={10} onChange={(to) => change({ goal: Math.round(to * 100) / 100 })} />}
    </div>
  )
}

function Asking({ plan, asked }: AskedProps & { readonly asked: Question }) {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  const { answered } = plan
  const fetching = plan.shed.fetching.value
  return (
    <>
      {answered && !sameQuestion(asked, answered) && <p class="note">{t('division.changed')}</p>}
      {fetching === 'failed' && <ShedFailed onRetry={() => void plan.plan()} />}
      <p class="small" role="status">{fetching === 'yes' ? t('division.working') : live ? '' : t('division.no_link')}</p>
      <button type="button" class="btn main" disabled={!live || fetching === 'yes'} onClick={() => void plan.plan()}>{t(answered ? 'division.ask_again' : 'division.ask')}</button>
    </>
  )
}

/** Large numbers take fewer taps. */
function stepFrom(n: number): number {
  return n < 20 ? 1 : n < 100 ? 5 : n < 500 ? 20 : 100
}
