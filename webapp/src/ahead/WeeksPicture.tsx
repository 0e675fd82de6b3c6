// The weeks side by side: the range of half and of nine in ten of the odds, the median, and what is promised beside it.

import type { Day } from '../crop/nouns'
import { weekNumber } from '../forecast/forecast_words'
import type { WeekToCome } from '../forecast/to_come'
import { columnSaid, ticksOf, WeekColumn, WeeksAxis } from '../forecast/WeekColumn'
import { tall } from '../forecast/weeks_scale'
import { dayAndMonth, t } from '../messages/messages'

interface WeeksPictureProps {
  readonly weeks: readonly WeekToCome[]
  readonly chosen: Day | undefined
  readonly onChoose: (first: Day) => void
}

export function WeeksPicture({ weeks, chosen, onChoose }: WeeksPictureProps) {
  const ticks = ticksOf(weeks)
  return (
    <figure class="weeks-figure">
      <div class="weeks-picture">
        <WeeksAxis ticks={ticks} height={tall} />
        <div class="weeks-columns" role="group" aria-label={t('ahead.picture')}>
          {weeks.map((week) => (
            <button key={week.first} type="button" class="week-column" aria-pressed={week.first === chosen} onClick={() => onChoose(week.first)}>
              <WeekColumn week={week} ticks={ticks} height={tall} />
              <span>{dayAndMonth(week.first)}</span>{' '}
              <span class="week-number">{weekNumber(week.first)}</span>{' '}
              <span class="unseen">{columnSaid(week)}</span>
            </button>
          ))}
        </div>
      </div>
      <Legend promised={weeks.some(({ promised }) => promised > 0)} />
    </figure>
  )
}

function Legend({ promised }: { readonly promised: boolean }) {
  return (
    <ul class="weeks-legend small">
      <li><svg width="18" height="18" aria-hidden="true"><line class="median" x1="0" x2="18" y1="9" y2="9" /></svg>{t('ahead.legend.median')}</li>
      <li><svg width="18" height="18" aria-hidden="true"><rect class="range-half" x="3" y="1" width="12" height="16" /></svg>{t('ahead.legend.half')}</li>
      <li><svg width="18" height="18" aria-hidden="true"><rect class="range-most" x="3" y="1" width="12" height="16" rx="3" /></svg>{t('ahead.legend.most')}</li>
      {promised && <li><svg width="18" height="18" aria-hidden="true"><rect class="promised" x="6" y="1" width="6" height="16" /></svg>{t('ahead.legend.promised')}</li>}
    </ul>
  )
}
