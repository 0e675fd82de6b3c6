// Seasons of a farm's calendar. A season bears the year of its spring. Mirrors
// internal/crop/season.go.

import { addDays, parseDay, yearOf } from './day'
import type { Calendar, Day, Planting, Season, Window } from './nouns'

/** The calendar of a farm whose season is the calendar year. */
export const northernYear: Calendar = { start: '01-01', southern: false }

/** Checks a season's start; 29 February is refused, since most years lack it. */
export function parseCalendar(start: string, southern: boolean): Calendar | undefined {
  // 2023 has no 29 February.
  return parseDay(`2023-${start}`) === undefined ? undefined : { start, southern }
}

/** The season in which a day lies, or 0 where it is no day. */
export function seasonOf(calendar: Calendar, day: Day): Season {
  if (parseDay(day) === undefined) return 0 as Season
  const started = day.slice(5) < calendar.start ? yearOf(day) - 1 : yearOf(day)
  return (startsBeforeItsYear(calendar) ? started + 1 : started) as Season
}

/** The season's first and last day. */
export function span(calendar: Calendar, season: Season): Window {
  const year = startsBeforeItsYear(calendar) ? season - 1 : season
  return { from: startIn(calendar, year), to: addDays(startIn(calendar, year + 1), -1) }
}

/** The plant's season in the ground: 1 in its planting's first season. */
export function ageIn(planting: Planting, season: Season): number {
  return season - planting.firstSeason + 1
}

export function holds(window: Window, day: Day): boolean {
  return window.from <= day && day <= window.to
}

/** The day on which a season's spring begins. */
export function springOf(calendar: Calendar, season: Season): Day {
  return `${String(season).padStart(4, '0')}-${springStart(calendar)}` as Day
}

function springStart({ southern }: Calendar): string {
  return southern ? '09-01' : '03-01'
}

function startsBeforeItsYear(calendar: Calendar): boolean {
  return springStart(calendar) < calendar.start
}

function startIn(calendar: Calendar, year: number): Day {
  return `${String(year).padStart(4, '0')}-${calendar.start}` as Day
}
