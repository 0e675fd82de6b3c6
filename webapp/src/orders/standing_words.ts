// Standing orders in words, with their lines and next days.

import { addDays } from '../crop/day'
import { daysOfStanding } from '../crop/due'
import type { Day } from '../crop/nouns'
import type { Line, Sales, StandingID, StandingOrder } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { weekdaysText } from '../ui/sale_words'

/** "Mon and Thu, every week, from 1 June". */
export function standingText(s: StandingOrder, today: Day): string {
  const parts = [weekdaysText(s.days), t('orders.every', { n: Math.max(s.every, 1) })]
  if (s.from > today) parts.push(t('orders.from', { day: dayName(s.from, today) }))
  if (s.until !== '') parts.push(t('orders.until', { day: dayName(s.until, today) }))
  return parts.join(', ')
}

export function standingLines(sales: Sales, id: StandingID): Line[] {
  return [...sales.linesOf.get(id) ?? []].sort().flatMap((line) => sales.lines.get(line) ?? [])
}

/** Its next days, those that are left out too. */
export function nextOf(s: StandingOrder, today: Day, wanted: number): Day[] {
  const weeks = Math.max(s.every, 1)
  const start = s.from > today ? s.from : today
  return daysOfStanding({ ...s, skips: [] }, start, addDays(start, 7 * weeks * wanted)).slice(0, wanted)
}

export function hasEnded(s: StandingOrder, today: Day): boolean {
  return s.until !== '' && s.until < today
}
