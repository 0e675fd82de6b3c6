// The days and weeks that an ask can be for with one tap.

import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'

const daysShown = 10
const weeksShown = 8

export interface WhenChoices {
  readonly days: readonly Day[]
  /** Mondays. */
  readonly weeks: readonly Day[]
  /** Weeks after those, to be picked from a list. */
  readonly later: readonly Day[]
}

/** Days from today on; while the season is further off, from its first day on. The weeks are those from the first on in which anything comes. */
export function whenChoices(weeks: readonly Day[], now: Day): WhenChoices {
  const first = weeks[0] ?? ('' as Day)
  const begin = first > addDays(now, daysShown) ? first : now
  const left = weeks.filter((monday) => addDays(monday, 6) >= now)
  return { days: Array.from({ length: daysShown }, (_, i) => addDays(begin, i)), weeks: left.slice(0, weeksShown), later: left.slice(weeksShown) }
}

/** Every day that one tap may ask for, alone or as one of a week, those soonest first. */
export function daysWithinATap({ days, weeks }: WhenChoices, now: Day): Day[] {
  const all = [...days, ...weeks.flatMap((monday) => Array.from({ length: 7 }, (_, i) => addDays(monday, i)))]
  return [...new Set(all)].filter((day) => day >= now).sort()
}
