// From which day to which the books are added up.

import { t } from '../messages/messages'
import { allDays, type Days, turned } from './days_asked'

interface DayBoundsProps {
  readonly days: Days
  readonly onChange: (days: Days) => void
}

export function DayBounds({ days, onChange }: DayBoundsProps) {
  const bounded = days.from !== '' || days.to !== ''
  return (
    <>
      <div class="two-fields day-bounds">
        <label class="field"><span>{t('books.from')}</span><input type="date" value={days.from} onInput={(event) => onChange({ ...days, from: event.currentTarget.value })} /></label>
        <label class="field"><span>{t('books.to')}</span><input type="date" value={days.to} onInput={(event) => onChange({ ...days, to: event.currentTarget.value })} /></label>
        {bounded && <button type="button" class="btn" onClick={() => onChange(allDays)}>{t('books.all_days')}</button>}
      </div>
      {turned(days) && <p class="note warn" role="status">{t('books.days.turned')}</p>}
    </>
  )
}
