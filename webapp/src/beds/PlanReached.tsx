// After the first flush: whether the precision wanted was met, and what it would have taken.

import { t } from '../messages/messages'
import { type AgePlan, verdictOf } from './plan'
import { reachedSentence } from './plan_sentence'
import { aimKey, planSettings } from './plan_settings'
import type { PlanTable } from './plan_table'

interface PlanReachedProps {
  readonly species: string
  readonly table: PlanTable
  readonly ages: readonly AgePlan[]
}

export function PlanReached({ species, table, ages }: PlanReachedProps) {
  const { aims, stems, assurance } = planSettings.value
  const lines = ages.flatMap(({ age, standing, expected: { reached } }) => {
    if (!reached) return []
    const wanted = aims[aimKey(species, reached.season, age)] ?? stems
    const verdict = verdictOf(table, reached, standing, wanted, assurance)
    return [{ age, met: verdict.met, open: reached.open, text: reachedSentence(age, reached, verdict, wanted, assurance) }]
  })
  if (lines.length === 0) return null
  return (
    <section class="card">
      <h2>{t('plan.reached.title')}</h2>
      <ul class="reached">
        {lines.map(({ age, met, text }) => <li key={age} class={met === 'no' ? 'note warn' : met === 'yes' ? 'note' : 'note plain'}>{text}</li>)}
      </ul>
      {lines.some(({ open }) => open > 0) && <p class="small">{t('plan.reached.open')}</p>}
    </section>
  )
}
