// The last weeks day by day, what is missing shown as plainly as what is told.

import { useState } from 'preact/hooks'
import { degreeDays } from '../crop/degree_days'
import type { Day, Farm } from '../crop/nouns'
import { dayName, daysName, decimal, t } from '../messages/messages'
import { degreesName, warmthShown } from './degrees'
import { type DayRow, dayRows } from './weather_days'

interface WeatherDaysProps {
  readonly farm: Farm
  readonly today: Day
  /** Chooses the day that is typed. */
  readonly onDay?: (day: Day) => void
}

/** Rows shown at first, and with each tap more. */
const some = 14

export function WeatherDays({ farm, today, onDay }: WeatherDaysProps) {
  const [shown, setShown] = useState(some)
  const rows = dayRows(farm.ahead, today)
  const choose = onDay && ((day: Day) => {
    onDay(day)
    scrollTo({ top: 0 })
  })
  return (
    <section>
      <h2>{t('weather.days')}</h2>
      {rows.length === 0 && <p class="small">{t('weather.days.none')}</p>}
      <ul class="rows weather-days">
        {rows.slice(0, shown).map((row) => <Row key={row.kind === 'gap' ? row.first : row.day} row={row} farm={farm} today={today} {...(choose && { onDay: choose })} />)}
      </ul>
      {rows.length > shown && <button type="button" class="btn" onClick={() => setShown(shown + some)}>{t('weather.days.more')}</button>}
    </section>
  )
}

function Row({ row, farm, today, onDay }: WeatherDaysProps & { readonly row: DayRow }) {
  const { warmth } = farm.ahead
  if (row.kind === 'gap') {
    const text = row.days === 1 ? t('weather.gap.one', { day: dayName(row.first, today) }) : t('weather.gap.more', { n: row.days, days: daysName(row.first, row.last) })
    return (
      <li class="line plain gap">
        <span>{text}</span>
        {onDay && <button type="button" class="btn" onClick={() => onDay(row.first)}>{t('weather.gap.type')}</button>}
      </li>
    )
  }
  const { day, weather } = row
  const [min, max] = [degreesName(warmth.degrees, weather.min), degreesName(warmth.degrees, weather.max)]
  const worth = warmthShown(warmth.degrees, degreeDays(weather, warmth, warmth.method))
  const text = (
    <span>
      <b>{dayName(day, today)}</b>
      <span class="small block">{row.kind === 'wrong' ? t('weather.days.wrong', { min, max }) : warmth.upper > warmth.lower && t('weather.days.worth', { n: decimal(worth, 1) })}</span>
    </span>
  )
  const range = row.kind === 'wrong' ? <span class="small">{t('weather.put_right')}</span> : <span class="range">{t('weather.days.range', { min, max })}</span>
  return <li>{onDay ? <button type="button" class="line plain" onClick={() => onDay(day)}>{text}{range}</button> : <div class="line plain">{text}{range}</div>}</li>
}
