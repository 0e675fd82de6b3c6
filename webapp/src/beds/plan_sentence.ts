// The sentences of the counting plan.

import { spanName, t } from '../messages/messages'
import { inHundred, whole } from './ages_sentence'
import { total, type Verdict } from './plan'
import type { Reached } from './plan_table'
import { minutesFor, type PlanSettings } from './plan_settings'

interface Planned {
  readonly planned: number
  readonly half: number
}

/** A half-width as it is shown: a tenth of a stem where it is small. */
export function shownHalf(half: number): number {
  return half < 10 ? Math.round(half * 10) / 10 : Math.round(half)
}

/** What the plan comes to, led by what she asked. */
export function planSentence(ages: readonly Planned[], asked: PlanSettings): string {
  const n = total(ages.map((age) => age.planned))
  const hundred = inHundred(asked.assurance)
  const minutes = minutesFor(n, asked)
  const cost = { cuts: asked.cuts, flush: spanOf(minutes * asked.cuts) }
  if (asked.by === 'stems') return `${t('plan.say.stems', { n, half: asked.stems, hundred })} ${t('plan.say.cost', { ...cost, span: spanOf(minutes) })}`
  const plants = t('plan.say.plants', { n, span: spanOf(asked.minutes) })
  const worst = Math.max(...ages.map((age) => age.half))
  if (!Number.isFinite(worst)) return `${plants} ${t('plan.say.too_few')}`
  const reach = worst === 0 ? t('plan.say.all') : t('plan.say.reach', { half: shownHalf(worst), hundred })
  return `${plants} ${reach} ${t('plan.say.flush', cost)}`
}

function spanOf(minutes: number): string {
  return spanName(minutes * 60_000)
}

/** How a season's counts of an age stand against what was wanted. */
export function reachedSentence(age: number, reached: Reached, verdict: Verdict, wanted: number, assurance: number): string {
  const mean = whole(reached.mean)
  const which = { age, season: String(reached.season), n: reached.plants, mean }
  if (verdict.met === 'unknown') return t('plan.reached.unknown', which)
  const stands = t('plan.reached', { ...which, half: shownHalf(verdict.half), wanted: shownHalf(wanted) })
  if (verdict.met === 'yes') return `${stands} ${t('plan.reached.met')}`
  return `${stands} ${t('plan.reached.not', { n: verdict.more, hundred: inHundred(assurance) })}`
}

/** A share of a hundred, or that it is past what the table tells. */
export function shownAssurance(assurance: number): string {
  if (assurance === 0) return t('plan.assurance.low')
  if (assurance === 1) return t('plan.assurance.high')
  return t('plan.assurance.in', { hundred: inHundred(assurance) })
}

/** What an age's expectation rests on, where that is not the age itself; '' else. */
export function restsOn(age: number, from: number): string {
  if (from === age) return ''
  return from === 0 ? t('plan.from.practice', { age }) : t('plan.from.other', { age, from })
}
