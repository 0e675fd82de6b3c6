// From which day to which the books are added up, as it is typed.

import { parseDay } from '../crop/day'
import type { Day } from '../crop/nouns'

/** As typed; '' is no bound. */
export interface Days {
  readonly from: string
  readonly to: string
}

export const allDays: Days = { from: '', to: '' }

/** What is asked of the shed; the whole season where what is typed is no time (yet). */
export function daysAsked(days: Days): { readonly from: Day | ''; readonly to: Day | '' } {
  if (turned(days)) return { from: '', to: '' }
  return { from: parseDay(days.from) ?? '', to: parseDay(days.to) ?? '' }
}

/** Whether the last day lies before the first. */
export function turned(days: Days): boolean {
  const [from, to] = [parseDay(days.from), parseDay(days.to)]
  return from !== undefined && to !== undefined && to < from
}
