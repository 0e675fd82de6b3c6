// The month and day on which the farm's season starts.

import { locale, t } from '../messages/messages'

/** Days that each month has in every year: 29 February starts no season. */
const daysOf = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

interface SeasonStartProps {
  /** MM-DD */
  readonly start: string
  readonly onSet: (start: string) => void
}

export function SeasonStart({ start, onSet }: SeasonStartProps) {
  const month = Number(start.slice(0, 2))
  const day = Number(start.slice(3))
  const set = (m: number, d: number) => onSet(monthDay(m, d))
  return (
    <fieldset class="field">
      <legend>{t('settings.season')}</legend>
      <div class="choices">
        <select aria-label={t('settings.season.month')} value={month} onChange={(e) => set(Number(e.currentTarget.value), day)}>
          {daysOf.map((_, i) => <option key={i} value={i + 1}>{monthName(i)}</option>)}
        </select>
        <select aria-label={t('settings.season.day')} value={day} onChange={(e) => set(month, Number(e.currentTarget.value))}>
          {Array.from({ length: daysOf[month - 1] ?? 31 }, (_, i) => <option key={i} value={i + 1}>{i + 1}</option>)}
        </select>
      </div>
      <p class="small">{t('settings.season.note')}</p>
    </fieldset>
  )
}

/** MM-DD, the day held within the month. */
export function monthDay(month: number, day: number): string {
  const last = daysOf[month - 1] ?? 31
  return `${String(month).padStart(2, '0')}-${String(Math.min(day, last)).padStart(2, '0')}`
}

/** "1 November" */
export function monthDayName(start: string): string {
  const date = new Date(`2026-${start}T00:00:00Z`)
  return new Intl.DateTimeFormat(locale.value, { day: 'numeric', month: 'long', timeZone: 'UTC' }).format(date)
}

function monthName(index: number): string {
  return new Intl.DateTimeFormat(locale.value, { month: 'long', timeZone: 'UTC' }).format(new Date(Date.UTC(2026, index, 1)))
}
