// The weeks side by side: the range of half and of nine in ten of the odds, the median, and what is promised beside it.

import { count, dayAndMonth, t } from '../messages/messages'
import type { Day } from '../crop/nouns'
import { rangeOfHalf, rangeOfMost, roughly, weekNumber } from '../forecast/forecast_words'
import { ticksTo } from '../ui/ticks'
import type { WeekToCome } from './to_come'
import { drawing, heightOf } from './weeks_scale'

interface WeeksPictureProps {
  readonly weeks: readonly WeekToCome[]
  readonly chosen: Day | undefined
  readonly onChoose: (first: Day) => void
}

export function WeeksPicture({ weeks, chosen, onChoose }: WeeksPictureProps) {
  const ticks = ticksTo(Math.max(1, ...weeks.map(({ stems, promised }) => Math.max(stems.q95, promised))))
  return (
    <figure class="weeks-figure">
      <div class="weeks-picture">
        <svg class="weeks-axis" height={drawing.height} aria-hidden="true">
          {ticks.map((tick) => <text key={tick} x="100%" y={heightOf(tick, ticks) + 5} text-anchor="end">{count(tick)}</text>)}
        </svg>
        <div class="weeks-columns" role="group" aria-label={t('ahead.picture')}>
          {weeks.map((week) => (
            <button key={week.first} type="button" class="week-column" aria-pressed={week.first === chosen} onClick={() => onChoose(week.first)}>
              <WeekColumn week={week} ticks={ticks} />
              <span>{dayAndMonth(week.first)}</span>{' '}
              <span class="week-number">{weekNumber(week.first)}</span>{' '}
              <span class="hidden">{columnSaid(week)}</span>
            </button>
          ))}
        </div>
      </div>
      <Legend promised={weeks.some(({ promised }) => promised > 0)} />
    </figure>
  )
}

function columnSaid(week: WeekToCome): string {
  const stems = t('stems', { n: roughly(week.stems.q50) })
  const said = t('ahead.week.said', { stems, half: rangeOfHalf(week.stems), most: rangeOfMost(week.stems) })
  return week.promised > 0 ? `${said} ${t('ahead.week.said.promised', { n: week.promised })}` : said
}

function WeekColumn({ week: { stems, promised }, ticks }: { readonly week: WeekToCome; readonly ticks: readonly number[] }) {
  const y = (value: number) => heightOf(value, ticks)
  const box = (lo: number, hi: number) => ({ y: y(hi), height: Math.max(1, y(lo) - y(hi)) })
  return (
    <svg width="100%" height={drawing.height} aria-hidden="true">
      {ticks.map((tick) => <line key={tick} class="axis" x1="0" x2="100%" y1={y(tick)} y2={y(tick)} />)}
      <rect class="range-most" x="16%" width="42%" rx="3" {...box(stems.q05, stems.q95)} />
      <rect class="range-half" x="16%" width="42%" {...box(stems.q25, stems.q75)} />
      <line class="median" x1="9%" x2="65%" y1={y(stems.q50)} y2={y(stems.q50)} />
      {promised > 0 && <rect class="promised" x="71%" width="16%" y={y(promised)} height={Math.max(2, y(0) - y(promised))} />}
    </svg>
  )
}

function Legend({ promised }: { readonly promised: boolean }) {
  return (
    <ul class="weeks-legend small">
      <li><svg width="18" height="18" aria-hidden="true"><line class="median" x1="0" x2="18" y1="9" y2="9" /></svg>{t('ahead.legend.median')}</li>
      <li><svg width="18" height="18" aria-hidden="true"><rect class="range-half" x="3" y="1" width="12" height="16" /></svg>{t('ahead.legend.half')}</li>
      <li><svg width="18" height="18" aria-hidden="true"><rect class="range-most" x="3" y="1" width="12" height="16" rx="3" /></svg>{t('ahead.legend.most')}</li>
      {promised && <li><svg width="18" height="18" aria-hidden="true"><rect class="promised" x="6" y="1" width="6" height="16" /></svg>{t('ahead.legend.promised')}</li>}
    </ul>
  )
}
