// Days of the farm's calendar, YYYY-MM-DD (ISO 8601), without a time zone. Mirrors
// internal/crop/date.go.

import type { Day } from './nouns'

/** Reads a day; undefined where there is no such day. */
export function parseDay(text: string): Day | undefined {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined
  const at = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(at.getTime()) && at.toISOString().slice(0, 10) === text ? (text as Day) : undefined
}

/** The day on which a moment falls in the device's own zone. */
export function dayOf(moment: Date): Day {
  const year = String(moment.getFullYear()).padStart(4, '0')
  const month = String(moment.getMonth() + 1).padStart(2, '0')
  return `${year}-${month}-${String(moment.getDate()).padStart(2, '0')}` as Day
}

/** The day n days later; '' where there is none. */
export function addDays(day: Day, days: number): Day {
  if (parseDay(day) === undefined) return '' as Day
  const at = new Date(`${day}T00:00:00Z`)
  at.setUTCDate(at.getUTCDate() + days)
  return at.toISOString().slice(0, 10) as Day
}

/** How many days later the second is; negative for earlier. */
export function daysBetween(from: Day, to: Day): number {
  return (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000
}

/** The calendar year, or 0 where it is no day. */
export function yearOf(day: Day): number {
  return parseDay(day) === undefined ? 0 : Number(day.slice(0, 4))
}
