// What taking a weather file in would do, before it is done; and doing it, in one operation that can be undone.

import { weatherFacts } from '../crop/ahead_facts'
import type { Ahead, DayWeather, DegreeUnit } from '../crop/ahead_nouns'
import type { Deed } from '../crop/deed'
import type { Day } from '../crop/nouns'
import { celsiusOf, isSlip, shownIn } from './degrees'
import type { ProblemKind, SheetProblem, WeatherRow, WeatherSheet } from './weather_sheet'

/** 'ahead': the day has not begun; 'unit': beyond any day on earth in the file's degrees. */
export interface FileProblem extends Omit<SheetProblem, 'kind'> {
  readonly kind: ProblemKind | 'ahead' | 'unit'
}

export interface Changed {
  readonly day: Day
  readonly before: DayWeather
  readonly after: DayWeather
}

export interface WeatherPlan {
  /** With any, nothing is taken. */
  readonly problems: readonly FileProblem[]
  readonly added: readonly (readonly [Day, DayWeather])[]
  readonly changed: readonly Changed[]
  /** Days that stand already as the file has them. */
  readonly same: number
}

export function planWeather({ days, problems }: WeatherSheet, unit: DegreeUnit, { weather, weatherWrong }: Pick<Ahead, 'weather' | 'weatherWrong'>, today: Day): WeatherPlan {
  const wrong = [...problems, ...days.flatMap((row) => problemsOf(row, unit, today))].sort((a, b) => a.line - b.line)
  const added: [Day, DayWeather][] = []
  const changed: Changed[] = []
  let same = 0
  for (const { date: day, min, max } of wrong.length > 0 ? [] : days) {
    const after = { min: celsiusOf(unit, min), max: celsiusOf(unit, max) }
    const before = weather.get(day) ?? weatherWrong.get(day)
    if (!before) added.push([day, after])
    else if (before.min === after.min && before.max === after.max) same++
    else changed.push({ day, before, after })
  }
  return { problems: wrong, added, changed, same }
}

function problemsOf({ date, line, min, max }: WeatherRow, unit: DegreeUnit, today: Day): FileProblem[] {
  const slip = (column: string, degrees: number): FileProblem[] =>
    (isSlip(celsiusOf(unit, degrees)) ? [{ line, column, kind: 'unit', found: String(degrees), other: '' }] : [])
  return [...(date > today ? [{ line, column: 'date', kind: 'ahead' as const, found: date, other: '' }] : []), ...slip('tmin', min), ...slip('tmax', max)]
}

export function takingIn({ added, changed }: WeatherPlan): Deed {
  return {
    facts: [...added.flatMap(([day, weather]) => weatherFacts(day, weather)), ...changed.flatMap(({ day, after }) => weatherFacts(day, after))],
    undo: [...added.flatMap(([day]) => weatherFacts(day, undefined)), ...changed.flatMap(({ day, before }) => weatherFacts(day, before))],
  }
}

/** The days told as a file that is taken in again: numbers and days alone, so that no spreadsheet finds a formula in it. */
export function weatherCsv(weather: Ahead['weather'], unit: DegreeUnit): string {
  const rows = [...weather].sort(([a], [b]) => (a < b ? -1 : 1)).map(([day, { min, max }]) => [day, shownIn(unit, min), shownIn(unit, max)].join())
  return `\uFEFF${['date,tmin,tmax', ...rows].join('\r\n')}\r\n`
}
