// One season of a plant along a line of stems: the others of its age as dots, it marked among them.

import { t } from '../messages/messages'
import { ticksTo } from '../ui/ticks'
import { jitter } from './ages_scale'
import { type Compared, drawnOf } from './peers'

const drawing = { width: 340, height: 78, left: 12, right: 12, middle: 32, base: 56, spread: 34 } as const

interface AgeStripProps {
  readonly compared: Compared
  /** The most stems of any strip beside this one, so that all have one scale. */
  readonly most: number
}

export function AgeStrip({ compared: { season, age, stems, others }, most }: AgeStripProps) {
  const ticks = ticksTo(Math.max(1, most))
  const end = ticks.at(-1) ?? 1
  const x = (n: number) => drawing.left + (n / end) * (drawing.width - drawing.left - drawing.right)
  const dots = drawnOf(others)
  return (
    <div>
      <p class="small">{t('peers.strip', { age, season: String(season) })}{dots.length < others.length && ` · ${t('peers.strip.some', { drawn: dots.length, n: others.length })}`}</p>
      <svg viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={t('peers.strip.name', { n: stems, age, others: others.length })}>
        <line class="axis" x1={drawing.left} x2={drawing.width - drawing.right} y1={drawing.base} y2={drawing.base} />
        {ticks.map((tick) => <text key={tick} x={x(tick)} y={drawing.height - 4} text-anchor="middle">{tick}</text>)}
        {dots.map((dot, i) => (
          <circle key={`${dot.plant}${dot.season}`} class="dot" cx={x(dot.stems)} cy={drawing.middle + jitter(i) * drawing.spread} r="3.2">
            <title>{t('ages.dot', { code: dot.code, season: String(dot.season), n: dot.stems })}</title>
          </circle>
        ))}
        <line class="own" x1={x(stems)} x2={x(stems)} y1="8" y2={drawing.base} />
        <circle class="own-dot" cx={x(stems)} cy={drawing.middle} r="6.5" />
      </svg>
    </div>
  )
}
