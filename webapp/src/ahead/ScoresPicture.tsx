// Past weeks side by side: the range of nine in ten as it would have been told, its mean, and what came.

import { useEffect, useRef } from 'preact/hooks'
import type { ScoredWeek } from '../forecast/forecast'
import { weekNumber } from '../forecast/forecast_words'
import { WeeksAxis } from '../forecast/WeekColumn'
import { heightOf, tall } from '../forecast/weeks_scale'
import { dayAndMonth, t } from '../messages/messages'
import { ticksTo } from '../ui/ticks'
import { held } from './scored'

export function ScoresPicture({ weeks }: { readonly weeks: readonly ScoredWeek[] }) {
  const columns = useRef<HTMLDivElement>(null)
  const ticks = ticksTo(Math.max(1, ...weeks.map(({ q95, came }) => Math.max(q95, came))))
  useEffect(() => {
    const last = columns.current?.children[lastToSee(weeks)]
    if (columns.current && last instanceof HTMLElement) columns.current.scrollLeft = last.offsetLeft + last.offsetWidth - columns.current.clientWidth
  }, [weeks])
  return (
    <figure class="weeks-figure">
      <div class="weeks-picture">
        <WeeksAxis ticks={ticks} height={tall} />
        <div ref={columns} class="weeks-columns" role="img" tabIndex={0} aria-label={t('scores.picture')}>
          {weeks.map((week) => (
            <div key={week.first} class="week-column" aria-hidden="true">
              <ScoredColumn week={week} ticks={ticks} />
              <span>{dayAndMonth(week.first)}</span>
              <span class="week-number">{weekNumber(week.first)}</span>
            </div>
          ))}
        </div>
      </div>
      <ul class="weeks-legend small">
        <li><svg width="18" height="18" aria-hidden="true"><rect class="range-most" x="3" y="1" width="12" height="16" rx="3" /></svg>{t('scores.legend.said')}</li>
        <li><svg width="18" height="18" aria-hidden="true"><line class="median" x1="0" x2="18" y1="9" y2="9" /></svg>{t('scores.legend.mean')}</li>
        <li><svg width="18" height="18" aria-hidden="true"><circle class="came" cx="9" cy="9" r="5" /></svg>{t('scores.legend.came')}</li>
        <li><svg width="18" height="18" aria-hidden="true"><circle class="came missed" cx="9" cy="9" r="5" /></svg>{t('scores.legend.missed')}</li>
      </ul>
    </figure>
  )
}

/** The last weeks are asked for first, but for those in which next to nothing came: beside the flush they are a flat line. */
function lastToSee(weeks: readonly ScoredWeek[]): number {
  const size = ({ q95, came }: ScoredWeek) => Math.max(q95, came)
  const most = Math.max(...weeks.map(size))
  return weeks.findLastIndex((week) => size(week) >= most / 10)
}

function ScoredColumn({ week, ticks }: { readonly week: ScoredWeek; readonly ticks: readonly number[] }) {
  const y = (value: number) => heightOf(value, ticks, tall)
  return (
    <svg width="100%" height={tall}>
      {ticks.map((tick) => <line key={tick} class="axis" x1="0" x2="100%" y1={y(tick)} y2={y(tick)} />)}
      <rect class="range-most" x="28%" width="44%" rx="3" y={y(week.q95)} height={Math.max(1, y(week.q05) - y(week.q95))} />
      <line class="median" x1="22%" x2="78%" y1={y(week.mean)} y2={y(week.mean)} />
      <circle class={held(week) ? 'came' : 'came missed'} cx="50%" cy={y(week.came)} r="5" />
    </svg>
  )
}
