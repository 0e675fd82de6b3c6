// Days of the week, each on or off.

import type { Weekdays } from '../crop/sale_nouns'
import { weekdayName } from '../messages/messages'
import { withWeekday } from './order_form'

interface WeekdayPickProps {
  readonly label: string
  readonly days: Weekdays
  readonly onDays: (days: Weekdays) => void
}

export function WeekdayPick({ label, days, onDays }: WeekdayPickProps) {
  return (
    <fieldset class="field">
      <legend>{label}</legend>
      <div class="choices weekdays">
        {[1, 2, 3, 4, 5, 6, 7].map((digit) => (
          <button key={digit} type="button" class="btn" aria-pressed={days.includes(String(digit))} onClick={() => onDays(withWeekday(days, digit))}>
            {weekdayName(digit)}
          </button>
        ))}
      </div>
    </fieldset>
  )
}
