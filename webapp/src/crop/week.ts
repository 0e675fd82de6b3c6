// Weeks as growers and markets number them (ISO 8601): from Monday, the first is the one with 4 January.

import { addDays, yearOf } from './day'
import { weekdayOf } from './due'
import type { Day } from './nouns'

export interface Week {
  /** The year that the week is numbered in, which at a year's turn need not be the day's. */
  readonly year: number
  readonly number: number
}

/** The week of a day as spreadsheets and growers write it: "2026-W23". */
export function weekCode(day: Day): string {
  const { year, number } = weekOf(day)
  return `${year}-W${String(number).padStart(2, '0')}`
}

export function weekOf(day: Day): Week {
  const thursday = addDays(day, 4 - weekdayOf(day))
  const year = yearOf(thursday)
  const days = Math.round((Date.parse(`${thursday}T00:00:00Z`) - Date.parse(`${year}-01-01T00:00:00Z`)) / 86_400_000)
  return { year, number: Math.floor(days / 7) + 1 }
}
