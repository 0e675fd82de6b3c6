// The weeks around a day in small: how much is to come of some stems, beside what is promised of them.

import { useMemo } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import { dayAndMonth, t } from '../messages/messages'
import type { Draws } from './draws'
import { weekNumber } from './forecast_words'
import type { Which } from './sums'
import { isIn, type WeekToCome, weeksAround } from './to_come'
import { columnSaid, ticksOf, WeekColumn, WeeksAxis } from './WeekColumn'
import { low } from './weeks_scale'

interface WeeksBesideProps {
  readonly farm: Farm
  readonly draws: Draws
  readonly which: Which
  readonly today: Day
  /** In the middle of them. */
  readonly day: Day
}

export function WeeksBeside({ farm: { sales }, draws, which, today, day }: WeeksBesideProps) {
  const weeks = useMemo(() => weeksAround(draws, which, sales, today, day), [draws, sales, today, day, which.grade, which.length, which.colours.join()])
  if (weeks.every(({ stems, promised }) => stems.q95 < 1 && promised === 0)) return null
  const ticks = ticksOf(weeks)
  return (
    <figure class="weeks-figure small">
      <div class="weeks-picture">
        <WeeksAxis ticks={ticks} height={low} />
        <ul class="weeks-columns">
          {weeks.map((week) => <Column key={week.first} week={week} ticks={ticks} asked={isIn(week, day)} />)}
        </ul>
      </div>
      <figcaption>{t('forecast.beside')}</figcaption>
    </figure>
  )
}

function Column({ week, ticks, asked }: { readonly week: WeekToCome; readonly ticks: readonly number[]; readonly asked: boolean }) {
  return (
    <li class={asked ? 'week-column is-asked' : 'week-column'}>
      <WeekColumn week={week} ticks={ticks} height={low} />
      <span>{weekNumber(week.first)}</span>{' '}
      <span class="unseen">{dayAndMonth(week.first)}: {columnSaid(week)}</span>
    </li>
  )
}
