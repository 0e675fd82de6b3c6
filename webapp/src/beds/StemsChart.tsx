// Stems a plant by season in the ground: the plants as dots, the interval of their mean, and the
// range of one more plant.

import { t } from '../messages/messages'
import { scaled, type Share } from './ages_per'
import type { Age } from './ages_report'
import { drawing, jitter, type Scale, scaleFor } from './ages_scale'
import { whole } from './ages_sentence'

interface StemsChartProps {
  readonly ages: readonly Age[]
  /** By what each age's mean is multiplied. */
  readonly shares: readonly Share[]
  readonly hundred: number
}

export function StemsChart({ ages, shares, hundred }: StemsChartProps) {
  const scale = scaleFor(ages, ages.map(({ stems }, i) => stems.hi * (shares[i]?.factor ?? 0)))
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={t('ages.stems.chart')}>
        {scale.ticks.map((tick) => (
          <g key={tick}>
            <line class="axis" x1={drawing.left} x2={drawing.width - drawing.right} y1={scale.y(tick)} y2={scale.y(tick)} />
            <text x={drawing.left - 8} y={scale.y(tick) + 5} text-anchor="end">{tick}</text>
          </g>
        ))}
        {ages.map((age, i) => <AgeColumn key={age.age} age={age} factor={shares[i]?.factor} x={scale.x(i)} scale={scale} />)}
      </svg>
      <Legend hundred={hundred} open={ages.some((age) => age.plants.some((dot) => dot.open))} />
    </figure>
  )
}

interface AgeColumnProps {
  readonly age: Age
  readonly factor: number | undefined
  readonly x: number
  readonly scale: Scale
}

function AgeColumn({ age, factor, x, scale }: AgeColumnProps) {
  const { y, step } = scale
  const { new_lo, new_hi } = age.stems
  const spread = Math.min(34, step * 0.36)
  const middle = x + Math.min(22, step * 0.2)
  return (
    <g>
      {age.plants.map((dot, i) => (
        <circle key={`${dot.plant}${dot.season}`} class={dot.open ? 'dot open' : 'dot'} cx={x - step * 0.2 + jitter(i) * spread} cy={y(dot.stems)} r="3.2">
          <title>{t('ages.dot', { code: dot.code, season: String(dot.season), n: dot.stems })}</title>
        </circle>
      ))}
      <rect class="spread" x={middle - 5} width="10" rx="5" y={y(new_hi)} height={Math.max(2, y(new_lo) - y(new_hi))} />
      {factor !== undefined && <MeanMark age={age} factor={factor} x={middle} scale={scale} />}
      <text x={x} y={drawing.height - 12} text-anchor="middle">{step < 66 ? age.age : t('ages.season.short', { age: age.age })}</text>
    </g>
  )
}

function MeanMark({ age, factor, x, scale: { y } }: AgeColumnProps & { readonly factor: number }) {
  const { mean, lo, hi } = scaled(age.stems, factor)
  return (
    <>
      <line class="interval" x1={x} x2={x} y1={y(hi)} y2={y(lo)} />
      <circle class="mean" cx={x} cy={y(mean)} r="6" />
      <text class="value" x={x + 11} y={y(mean) + 5}>{whole(mean)}</text>
    </>
  )
}

function Legend({ hundred, open }: { readonly hundred: number; readonly open: boolean }) {
  return (
    <ul class="legend small">
      <li><svg width="18" height="18" aria-hidden="true"><circle class="dot" cx="9" cy="9" r="4" /></svg>{t('ages.legend.dot')}</li>
      {open && <li><svg width="18" height="18" aria-hidden="true"><circle class="dot open" cx="9" cy="9" r="4" /></svg>{t('ages.legend.open')}</li>}
      <li><svg width="18" height="18" aria-hidden="true"><line class="interval" x1="9" x2="9" y1="3" y2="15" /></svg>{t('ages.legend.mean', { hundred })}</li>
      <li><svg width="18" height="18" aria-hidden="true"><rect class="spread" x="4" y="1" width="10" height="16" rx="5" /></svg>{t('ages.legend.new', { hundred })}</li>
    </ul>
  )
}
