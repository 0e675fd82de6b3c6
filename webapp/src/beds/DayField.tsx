// A day that is over or is today, and not before what it follows.

import type { Day } from '../crop/nouns'
import { parseDay } from '../crop/day'
import { dayName, t } from '../messages/messages'
import { today } from '../ui/today'

interface DayFieldProps {
  readonly name: string
  readonly day: Day
  readonly from: Day | ''
  readonly onDay: (day: Day) => void
}

export function DayField({ name, day, from, onDay }: DayFieldProps) {
  return (
    <>
      <label class="field">
        <span>{name}</span>
        <input type="date" value={day} min={from} max={today.value} onInput={(event) => onDay(event.currentTarget.value as Day)} />
      </label>
      {!dayFits(day, from) && <p class="note stop" role="alert">{from === '' ? t('lineage.day.ahead') : t('lineage.day.between', { day: dayName(from, today.value) })}</p>}
    </>
  )
}

export function dayFits(day: Day, from: Day | ''): boolean {
  return parseDay(day) !== undefined && day >= from && day <= today.value
}
