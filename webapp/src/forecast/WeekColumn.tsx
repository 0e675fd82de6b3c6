// One week of a picture of weeks: the range of half and of nine in ten of the odds, the median, and what is promised beside it.

import { count, t } from '../messages/messages'
import { ticksTo } from '../ui/ticks'
import { rangeOfHalf, rangeOfMost, roughly } from './forecast_words'
import type { WeekToCome } from './to_come'
import { heightOf } from './weeks_scale'
import './weeks_picture.css'

/** The steps of a scale that holds all of them. */
export function ticksOf(weeks: readonly WeekToCome[]): number[] {
  return ticksTo(Math.max(1, ...weeks.map(({ stems, promised }) => Math.max(stems.q95, promised))))
}

interface OfScale {
  readonly ticks: readonly number[]
  readonly height: number
}

export function WeeksAxis({ ticks, height }: OfScale) {
  return (
    <svg class="weeks-axis" height={height} aria-hidden="true">
      {ticks.map((tick) => <text key={tick} x="100%" y={heightOf(tick, ticks, height) + 5} text-anchor="end">{count(tick)}</text>)}
    </svg>
  )
}

export function WeekColumn({ week: { stems, promised }, ticks, height }: OfScale & { readonly week: WeekToCome }) {
  const y = (value: number) => heightOf(value, ticks, height)
  const box = (lo: number, hi: number) => ({ y: y(hi), height: Math.max(1, y(lo) - y(hi)) })
  return (
    <svg width="100%" height={height} aria-hidden="true">
      {ticks.map((tick) => <line key={tick} class="axis" x1="0" x2="100%" y1={y(tick)} y2={y(tick)} />)}
      <rect class="range-most" x="16%" width="42%" rx="3" {...box(stems.q05, stems.q95)} />
      <rect class="range-half" x="16%" width="42%" {...box(stems.q25, stems.q75)} />
      <line class="median" x1="9%" x2="65%" y1={y(stems.q50)} y2={y(stems.q50)} />
      {promised > 0 && <rect class="promised" x="71%" width="16%" y={y(promised)} height={Math.max(2, y(0) - y(promised))} />}
    </svg>
  )
}

/** What a column shows, for who does not see it. */
export function columnSaid(week: WeekToCome): string {
  const stems = t('stems', { n: roughly(week.stems.q50) })
  const said = t('ahead.week.said', { stems, half: rangeOfHalf(week.stems), most: rangeOfMost(week.stems) })
  return week.promised > 0 ? `${said} ${t('ahead.week.said.promised', { n: week.promised })}` : said
}
