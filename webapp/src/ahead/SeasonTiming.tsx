// How late the season is, by its flush and by the weather.

import { daysBetween } from '../crop/day'
import type { Days, ForecastAnswer, Warmth } from '../forecast/forecast'
import { count, t } from '../messages/messages'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'

export function SeasonTiming({ answer: { season_shift: shift, warmth } }: { readonly answer: ForecastAnswer }) {
  const said = [...(shift ? [shiftText(shift.usual)] : []), ...(warmth && warmth.seasons > 0 ? [warmthText(warmth)] : [])]
  if (said.length === 0) return null
  return (
    <section>
      <h2>{t('ahead.timing')}</h2>
      {said.map((text) => <p key={text}><Marked text={text} /></p>)}
      {warmth && warmth.filled.length > 0 && <p class="small">{t('ahead.warmth.filled', { n: daysIn(warmth) })} <a href={href('ahead', 'weather')}>{t('ahead.warmth.fill')}</a></p>}
    </section>
  )
}

/** By days of which nine in ten of the odds are on one side it is late, or early; else about as usual. */
export function shiftText({ q05, q50, q95 }: Days): string {
  const [lo, mid, hi] = [Math.round(q05), Math.round(q50), Math.round(q95)]
  if (lo > 0) return t('ahead.shift.late', { n: mid, lo: count(lo), hi: count(hi) })
  if (hi < 0) return t('ahead.shift.early', { n: -mid, lo: count(-hi), hi: count(-lo) })
  return t('ahead.shift.usual', { early: count(-lo), late: count(hi) })
}

export function warmthText({ ahead, seasons }: Pick<Warmth, 'ahead' | 'seasons'>): string {
  const days = Math.round(ahead)
  if (days === 0) return t('ahead.warmth.usual', { n: seasons })
  return days > 0 ? t('ahead.warmth.ahead', { n: days, seasons: count(seasons) }) : t('ahead.warmth.behind', { n: -days, seasons: count(seasons) })
}

function daysIn({ filled }: Warmth): number {
  return filled.reduce((sum, { first, last }) => sum + daysBetween(first, last) + 1, 0)
}
