// The weather of a spreadsheet, planned as the season's own file of it is.

import type { DegreeUnit } from '../crop/ahead_nouns'
import type { Day } from '../crop/nouns'
import { t } from '../messages/messages'
import { planWeather, takingIn } from '../season/weather_plan'
import type { WeatherRow } from '../season/weather_sheet'
import { opened, planned, type Reading, type SheetPlan } from './plan'

export function planWeatherSheet(reading: Reading, unit: DegreeUnit): SheetPlan {
  const { rows, problems } = opened(reading)
  const lines = new Map<Day, number>()
  const days: WeatherRow[] = []
  let empty = 0
  for (const row of rows) {
    const date = row.need('date') === '' ? '' : row.past('date')
    const [min, max] = [row.number('tmin'), row.number('tmax')]
    if (date === '') continue
    const other = lines.get(date)
    if (other !== undefined) {
      row.refuse('date', t('sheets.wrong.day_twice', { line: other }))
      continue
    }
    lines.set(date, row.line)
    if (row.text('tmin') === '' || row.text('tmax') === '') empty++
    else if (min === undefined || max === undefined) continue
    else if (min > max) row.refuse('tmin', t('sheets.wrong.tmin_above'))
    else days.push({ date, line: row.line, min, max })
  }
  const plan = planWeather({ days, outOfOrder: false, empty: [], ignored: [], problems: [] }, unit, reading.farm.ahead, reading.today)
  const beyond = plan.problems.map(({ line, column, found }) => ({ line, column: column === 'tmax' ? 'tmax' as const : 'tmin' as const, text: t('weather.wrong.unit', { found, unit: unit === 'c' ? '°C' : '°F' }) }))
  return planned([...problems, ...beyond], {
    would: [
      ...(plan.added.length > 0 ? [t('sheets.would.days', { n: plan.added.length })] : []),
      ...(plan.changed.length > 0 ? [t('sheets.would.days_changed', { n: plan.changed.length })] : []),
      ...(empty > 0 ? [t('sheets.would.days_empty', { n: empty })] : []),
    ],
    same: plan.same,
    deed: takingIn(plan),
  })
}
