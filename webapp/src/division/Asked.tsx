// What is asked of the plan, and asking the shed.

import { useState } from 'preact/hooks'
import { count, hasMessage, t, tCode } from '../messages/messages'
import { goalText } from '../ui/division_words'
import { Icon } from '../ui/Icon'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import type { Refused } from '../ui/shed_answer'
import { ShedFailed } from '../ui/ShedFailed'
import { Stepper } from '../ui/Stepper'
import { wide } from '../ui/wide'
import { type DivisionPlan, placesBetween, type Question } from './division_plan'
import { chanceText } from './division_sentence'
import { WantedStems } from './WantedStems'

const goals = [1, 1.25, 1.5, 2]
const seasons = [1, 2, 3]
/** 0 is whatever comes of the plan that brings most. */
const chances = [0, 0.5, 0.8, 0.9]

interface AskedProps {
  readonly plan: DivisionPlan
}

/** Once there is a plan a phone has it folded, so that the plan comes first. */
export function Asked({ plan }: AskedProps) {
  const [open, setOpen] = useState(false)
  const farm = useNotebook().farm.value
  const folds = plan.answer.value !== undefined && !wide.value
  return (
    <div>
      {folds && (
        <button type="button" class="btn fold-asked" aria-expanded={open} onClick={() => setOpen(!open)}>
          <span>{questionText(plan.question(farm))}</span><Icon name={open ? 'up' : 'down'} />
        </button>
      )}
      {(!folds || open) && <AskedCard plan={plan} onAsk={() => setOpen(false)} />}
      {folds && !open && <AskedState plan={plan} />}
    </div>
  )
}

/** "Half as many again in 2 seasons: 34 places, 16 hours" */
function questionText({ goal, seasons: n, places, hours }: Question): string {
  return t('division.asked', { goal: goalText(goal), seasons: t('division.seasons', { n }), places: count(places), hours: count(hours) })
}

function AskedCard({ plan, onAsk }: AskedProps & { readonly onAsk: () => void }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const asked = plan.question(farm)
  const change = (part: Partial<Question>) => void plan.ask(part)
  return (
    <section class="card asked">
      <Goal goal={asked.goal} change={change} />
      <div class="field">
        <span id="division-seasons">{t('division.in')}</span>
        <div class="choices three" role="group" aria-labelledby="division-seasons">
          {seasons.map((n) => <button key={n} type="button" class="btn" aria-pressed={asked.seasons === n} onClick={() => change({ seasons: n })}>{t('division.seasons', { n })}</button>)}
        </div>
      </div>
      <div class="field">
        <span id="division-sure">{t('division.sure')}</span>
        <div class="choices two" role="group" aria-labelledby="division-sure">
          {chances.map((chance) => <button key={chance} type="button" class="btn" aria-pressed={asked.chance === chance} onClick={() => change({ chance })}>{chance === 0 ? t('division.sure.any') : chanceText(chance)}</button>)}
        </div>
      </div>
      <Stepper label={t('division.places')} value={asked.places} step={stepFrom(asked.places)} least={0} most={100_000} onChange={(places) => change({ places })} />
      <p class="small">{t('division.places.why', { n: placesBetween(farm) })}</p>
      <Stepper label={t('division.hours')} value={asked.hours} step={asked.hours < 8 ? 1 : 4} least={0} most={2_000} onChange={(hours) => change({ hours })} />
      <Stepper label={t('division.most')} value={asked.most} step={1} least={2} most={12} onChange={(most) => change({ most })} />
      <WantedStems asked={asked} change={change} />
      <AskedState plan={plan} />
      <Asking plan={plan} onAsk={onAsk} />
    </section>
  )
}

function Goal({ goal, change }: { readonly goal: number; readonly change: (part: Partial<Question>) => void }) {
  const [own, setOwn] = useState(!goals.includes(goal))
  return (
    <div class="field">
      <span id="division-goal">{t('division.goal')}</span>
      <div class="choices two" role="group" aria-labelledby="division-goal">
        {goals.map((one) => (
          <button key={one} type="button" class="btn" aria-pressed={!own && goal === one} onClick={() => { setOwn(false); change({ goal: one }) }}>{goalText(one)}</button>
        ))}
        <button type="button" class="btn" aria-pressed={own} onClick={() => setOwn(true)}>{t('division.goal.own')}</button>
      </div>
      {own && <Stepper label={t('division.goal.own.label')} value={goal} step={0.05} least={0.5} most={10} onChange={(to) => change({ goal: Math.round(to * 100) / 100 })} />}
    </div>
  )
}

/** What the shed does with the question, and whether the plan here is an answer to it. */
function AskedState({ plan }: AskedProps) {
  const notebook = useNotebook()
  const fetching = plan.shed.fetching.value
  const refused = plan.shed.refused.value
  const changed = plan.isStale(notebook.farm.value)
  return (
    <>
      {changed && fetching !== 'yes' && <p class="note">{t('division.changed')}</p>}
      {refused && <p class="note stop" role="alert">{refusedText(refused)}</p>}
      {fetching === 'failed' && <ShedFailed onRetry={() => void plan.plan()} />}
      <p class="small" role="status">{fetching === 'yes' ? t('division.working') : inReach(notebook.sync.value) ? '' : t('division.no_link')}</p>
    </>
  )
}

function Asking({ plan, onAsk }: AskedProps & { readonly onAsk: () => void }) {
  const reached = inReach(useNotebook().sync.value)
  const ask = () => {
    onAsk()
    void plan.plan()
  }
  return (
    <button type="button" class="btn main" disabled={!reached || plan.shed.fetching.value === 'yes'} onClick={ask}>
      {t(plan.answered ? 'division.ask_again' : 'division.ask')}
    </button>
  )
}

/** Why there is no plan; what the shed says where this app has no words for it. */
function refusedText({ code, text }: Refused): string {
  const key = `division.refused.${code}`
  return hasMessage(key) ? tCode(key, {}) : text
}

/** Large numbers take fewer taps. */
function stepFrom(n: number): number {
  return n < 20 ? 1 : n < 100 ? 5 : n < 500 ? 20 : 100
}
