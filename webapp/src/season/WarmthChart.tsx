// The sums of this season and of earlier ones by day of the year.

import { addDays, daysBetween } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import { seasonOf, springOf } from '../crop/season'
import type { SeasonSum } from '../crop/season_warmth'
import { dayAndMonth, decimal, t } from '../messages/messages'
import { warmthShown } from './degrees'
import { drawing, namesApart, warmthPaths, warmthScale } from './warmth_scale'

interface WarmthChartProps {
  readonly farm: Farm
  readonly now: SeasonSum | undefined
  /** The latest first. */
  readonly formers: readonly SeasonSum[]
  readonly today: Day
}

export function WarmthChart({ farm: { calendar, ahead: { warmth } }, now, formers, today }: WarmthChartProps) {
  const { first, last, seasons } = inView(now, formers)
  const shown = (sum: number) => warmthShown(warmth.degrees, sum)
  const scale = warmthScale(first, last, Math.max(...seasons.map(({ days }) => shown(days.at(-1)?.sum ?? 0))))
  const spring = springOf(calendar, seasonOf(calendar, today))
  const months = monthStarts(addDays(spring, first), addDays(spring, last))
  const all = seasons.map((one) => ({ ...one, isNow: one.season === now?.season }))
  return (
    <figure class="warmth-chart">
      <svg viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={t('weather.chart')}>
        {scale.ticks.map((tick) => (
          <g key={tick}>
            <line class="axis" x1={drawing.left} x2={drawing.width - drawing.right} y1={scale.y(tick)} y2={scale.y(tick)} />
            <text x={drawing.left - 8} y={scale.y(tick) + 5} text-anchor="end">{decimal(tick, 0)}</text>
          </g>
        ))}
        {months.map((day) => <text key={day} x={scale.x(daysBetween(spring, day))} y={drawing.height - 8} text-anchor="middle">{dayAndMonth(day)}</text>)}
        {all.map((one) => {
          const { told, estimated } = warmthPaths(one.from, one.days, shown, scale)
          return <g key={one.season} class={one.isNow ? 'now' : 'former'}><path d={estimated} class="estimated" /><path d={told} /></g>
        })}
        {namesApart(all.map((one) => ({ season: one.season, isNow: one.isNow, x: scale.x(one.from + one.days.length - 1), y: scale.y(shown(one.days.at(-1)?.sum ?? 0)) - 7 }))).map((name) => (
          <text key={name.season} class={name.isNow ? 'name now' : 'name'} x={name.x} y={name.y} text-anchor="end">{name.isNow ? t('weather.season.now') : String(name.season)}</text>
        ))}
      </svg>
      {all.some(({ days }) => days.some(({ told }) => !told)) && <figcaption class="small">{t('weather.chart.estimated')}</figcaption>}
    </figure>
  )
}

/** Days drawn before spring, in which little warmth comes, and behind the last of this season. */
const beforeSpring = 31
const behindNow = 60

/** The days of the year that are drawn, and the seasons as far as they lie in them. */
function inView(now: SeasonSum | undefined, formers: readonly SeasonSum[]): { readonly first: number; readonly last: number; readonly seasons: readonly SeasonSum[] } {
  const all = [...formers, ...(now ? [now] : [])]
  const endOf = ({ from, days }: SeasonSum) => from + days.length - 1
  const last = Math.min(Math.max(...all.map(endOf)), now ? Math.max(endOf(now), 0) + behindNow : Infinity)
  const first = Math.min(Math.max(Math.min(...all.map(({ from }) => from)), -beforeSpring), last - 1)
  const seasons = all.flatMap(({ season, from, days }): SeasonSum[] => {
    const skipped = Math.max(0, first - from)
    const seen = days.slice(skipped, last - from + 1)
    return seen.length > 0 ? [{ season, from: from + skipped, days: seen }] : []
  })
  return { first, last, seasons }
}

/** The first days of every second month between two days: each has room. */
function monthStarts(first: Day, last: Day): Day[] {
  const found: Day[] = []
  for (let month = 0; ; month++) {
    const at = new Date(`${first.slice(0, 7)}-01T00:00:00Z`)
    at.setUTCMonth(at.getUTCMonth() + month)
    const day = at.toISOString().slice(0, 10) as Day
    if (day > last) return found.filter((_, i) => found.length <= 6 || i % 2 === 0)
    if (day >= first) found.push(day)
  }
}
