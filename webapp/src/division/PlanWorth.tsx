// What a plan brings and takes, and what more room or time would be worth.

import type { Cents } from '../crop/sale_nouns'
import { weekShort } from '../forecast/forecast_words'
import { count, decimal, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { colourCalled } from '../ui/sale_words'
import type { DivisionAnswer } from './division_answer'
import type { Question } from './division_plan'

export function PlanWorth({ answer, question }: { readonly answer: DivisionAnswer; readonly question: Question }) {
  const farm = useNotebook().farm.value
  const { currency } = farm.sales.terms
  const told = (cents: number) => amount(Math.round(cents) as Cents, currency)
  const { net_cents: net, goal, gap } = answer
  const wanted = (answer.wanted ?? []).length > 0
  return (
    <section class="card">
      <dl class="facts">
        <dt>{t('division.net')}<span class="small block">{t('division.between', { lo: told(net.lo), hi: told(net.hi) })}</span></dt>
        <dd>{told(net.mean)}</dd>
        <dt>{t('division.goal_stems', { seasons: t('division.seasons', { n: question.seasons }) })}<span class="small block">{t('division.between', { lo: stems(goal.stems.lo), hi: stems(goal.stems.hi) })}</span></dt>
        <dd>{stems(goal.stems.mean)}</dd>
        <dt>{t('division.now_stems')}</dt>
        <dd>{stems(goal.now)}</dd>
        <dt>{t('division.places_used')}</dt>
        <dd>{t('division.of', { n: count(answer.places_used), all: count(question.places) })}</dd>
        <dt>{t('division.hours_used')}</dt>
        <dd>{t('division.of', { n: decimal(answer.hours_used, 1), all: count(question.hours) })}</dd>
        <dt>{t('division.place_worth')}</dt>
        <dd>{told(answer.place_worth_cents)}</dd>
        <dt>{t('division.hour_worth')}</dt>
        <dd>{told(answer.hour_worth_cents)}</dd>
      </dl>
      {wanted && (
        <ul class="reasons">
          {answer.wanted?.map((one) => (
            <li key={`${one.due} ${one.colour}`}>{t('division.wanted.met', { n: one.stems, week: weekShort(one.due), colours: colourCalled(farm, one.colour), mean: stems(one.mean) })}</li>
          ))}
        </ul>
      )}
      <p class="small">{t('division.ranges', { draws: goal.draws })} {gap > 0 && wanted ? t('division.gap.wanted') : gap > 0 ? t('division.gap', { percent: decimal(gap * 100, gap < 0.01 ? 2 : 1) }) : t('division.proven')}</p>
    </section>
  )
}

function stems(n: number): string {
  return count(Math.round(n))
}
