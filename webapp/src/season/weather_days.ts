// The days of which weather is told, and those missing between, the newest first.

import type { Ahead, DayWeather } from '../crop/ahead_nouns'
import { addDays, daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'

export type DayRow =
  | { readonly kind: 'told'; readonly day: Day; readonly weather: DayWeather }
  /** Told with its lowest above its highest. */
  | { readonly kind: 'wrong'; readonly day: Day; readonly weather: DayWeather }
  /** Both ends included. */
  | { readonly kind: 'gap'; readonly first: Day; readonly last: Day; readonly days: number }

/** From the first day told to yesterday everything that is missing is a gap; today is none, since it is not over. */
export function dayRows({ weather, weatherWrong }: Pick<Ahead, 'weather' | 'weatherWrong'>, today: Day): DayRow[] {
  const told = [
    ...[...weather].map(([day, of]): DayRow & { day: Day } => ({ kind: 'told', day, weather: of })),
    ...[...weatherWrong].map(([day, of]): DayRow & { day: Day } => ({ kind: 'wrong', day, weather: of })),
  ].sort((a, b) => (a.day < b.day ? 1 : -1))
  if (told.length === 0) return []
  const rows: DayRow[] = []
  let after = today
  for (const row of told) {
    const missing = daysBetween(row.day, after) - 1
    if (missing > 0) rows.push({ kind: 'gap', first: addDays(row.day, 1), last: addDays(after, -1), days: missing })
    rows.push(row)
    after = row.day
  }
  return rows
}

/** Yesterday and today, where nothing is told of them: what is most likely to be typed. */
export function untold({ weather }: Pick<Ahead, 'weather'>, today: Day): Day[] {
  return [addDays(today, -1), today].filter((day) => !weather.has(day))
}

/** The next missing day behind one that was just told: in the same gap, else yesterday or today. */
export function nextMissing(ahead: Pick<Ahead, 'weather'>, told: Day, today: Day): Day | undefined {
  const next = addDays(told, 1)
  return next <= today && !ahead.weather.has(next) ? next : untold(ahead, today).find((day) => day !== told)
}
