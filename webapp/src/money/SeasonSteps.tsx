// The season's sum as steps: a table whose rows are drawn too, what went hatched and what stands filled.

import { t } from '../messages/messages'
import { amount } from '../ui/money'
import type { Books } from './books'
import { type Step, stepsOf } from './season_sum'

export function SeasonSteps({ books: { all, currency } }: { readonly books: Books }) {
  const steps = stepsOf(all)
  const low = Math.min(0, ...steps.map(({ from }) => from))
  const high = Math.max(low + 1, ...steps.map(({ to }) => to))
  return (
    <table class="steps">
      <caption class="unseen">{t('books.steps')}</caption>
      <tbody>
        {steps.map((step) => (
          <tr key={step.name} class={step.isSum ? 'sum' : undefined}>
            <th scope="row">{t(`books.step.${step.name}`)}<StepBar step={step} low={low} high={high} /></th>
            <td>{amount(step.cents, currency)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function StepBar({ step: { from, to, cents, isSum }, low, high }: { readonly step: Step; readonly low: number; readonly high: number }) {
  const part = (cents: number) => (cents / (high - low)) * 100
  const how = isSum && cents >= 0 ? 'full' : cents < 0 ? 'hatched' : 'line'
  return <span class="sum-track" aria-hidden="true"><span class={`sum-bar ${how}`} style={{ left: `${part(from - low)}%`, width: `${part(to - from)}%` }} /></span>
}
