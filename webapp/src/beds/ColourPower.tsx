// How many photos are worth taking: the chance that a drift is confirmed, by its size.

import type { ColourReport } from './colour_report'
import { count, t } from '../messages/messages'
import { Marked } from '../ui/Say'
import { inHundred } from './ages_sentence'
import { chanceOf, enough, photoPlans, type PhotoPlan, worthTaking } from './colour_power'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

const drawing = { width: 360, height: 210, left: 40, right: 14, top: 12, bottom: 40 } as const

export function ColourPower({ report }: { readonly report: Pick<ColourReport, 'power' | 'threshold'> }) {
  const plans = photoPlans(report)
  const sizes = plans[0]?.chances.map(({ size }) => size) ?? []
  if (sizes.length < 2) return null
  return (
    <>
      <p><Marked text={powerSentence(plans, leadSize(sizes, report.threshold))} /></p>
      <PowerChart plans={drawnOf(plans)} sizes={sizes} />
      <TableBox caption={t('colours.power.caption')}>
        <thead><tr><Head>{t('colours.power.photos')}</Head><Head>{t('colours.power.days')}</Head>{sizes.map((size) => <Head key={size}>{count(size)}</Head>)}</tr></thead>
        <tbody>
          {plans.map((plan) => (
            <tr key={`${plan.photos} ${plan.days}`}>
              <Cell>{count(plan.photos)}</Cell><Cell>{count(plan.days)}</Cell>
              {sizes.map((size) => <Cell key={size}>{hundredOf(plan, size)}</Cell>)}
            </tr>
          ))}
        </tbody>
      </TableBox>
      <p class="small">{t('colours.power.note')}</p>
    </>
  )
}

/** The first that is beyond what can just be seen: at that size itself half are told to be smaller. */
export function leadSize(sizes: readonly number[], threshold: number): number {
  return sizes.find((size) => size > threshold) ?? sizes.at(-1) ?? threshold
}

export function powerSentence(plans: readonly PhotoPlan[], size: number): string {
  const worth = worthTaking(plans, size)
  if (!worth) return ''
  const told = (plan: PhotoPlan) => ({ photos: t('colours.power.n', { n: plan.photos }), days: plan.days, hundred: hundredOf(plan, size) })
  const lead = t(worth.enough ? 'colours.power.enough' : 'colours.power.most', { ...told(worth.plan), size })
  return worth.more ? `${lead} ${t('colours.power.more', told(worth.more))}` : `${lead} ${t('colours.power.no_more')}`
}

/** In a hundred; nothing is certain. */
function hundredOf(plan: PhotoPlan, size: number): number {
  return Math.min(99, inHundred(chanceOf(plan, size)))
}

/** The fewest photos, the most, and the middle. */
function drawnOf(plans: readonly PhotoPlan[]): PhotoPlan[] {
  return [...new Set([plans[0], plans[Math.floor((plans.length - 1) / 2)], plans.at(-1)])].filter((one) => one !== undefined)
}

const dashes = ['', '6 4', '2 3']

function PowerChart({ plans, sizes }: { readonly plans: readonly PhotoPlan[]; readonly sizes: readonly number[] }) {
  const { width, height, left, right, top, bottom } = drawing
  const [least, most] = [sizes[0] ?? 0, sizes.at(-1) ?? 1]
  const x = (size: number) => left + ((size - least) / (most - least)) * (width - left - right)
  const y = (chance: number) => top + (1 - chance) * (height - top - bottom)
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={t('colours.power.chart')}>
        {[0, 0.5, enough, 1].map((chance) => (
          <g key={chance}>
            <line class={chance === enough ? 'reference' : 'axis'} x1={left} x2={width - right} y1={y(chance)} y2={y(chance)} />
            <text x={left - 6} y={y(chance) + 5} text-anchor="end">{inHundred(chance)}</text>
          </g>
        ))}
        {sizes.map((size) => <text key={size} x={x(size)} y={height - bottom + 18} text-anchor="middle">{size}</text>)}
        <text x={(left + width - right) / 2} y={height - 4} text-anchor="middle">{t('colours.power.axis')}</text>
        {plans.map((plan, i) => (
          <path key={`${plan.photos} ${plan.days}`} class="power-line" stroke-dasharray={dashes[i]} d={plan.chances.map(({ size, confirmed }, j) => `${j === 0 ? 'M' : 'L'}${x(size).toFixed(1)} ${y(confirmed).toFixed(1)}`).join('')} />
        ))}
      </svg>
      <ul class="legend small">
        {plans.map((plan, i) => (
          <li key={`${plan.photos} ${plan.days}`}><svg width="34" height="12" aria-hidden="true"><path class="power-line" stroke-dasharray={dashes[i]} d="M1 6H33" /></svg>{t('colours.power.plan', { photos: t('colours.power.n', { n: plan.photos }), days: plan.days })}</li>
        ))}
      </ul>
    </figure>
  )
}
