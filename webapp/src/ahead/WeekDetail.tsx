// One week from near: its grades, its colours, its days, and what is promised in it.

import { useMemo } from 'preact/hooks'
import { addDays } from '../crop/day'
import { weekdayOf } from '../crop/due'
import type { LineNeed } from '../crop/line_needs'
import { gradesHighToLow } from '../crop/nouns'
import { type Draws, gradesLowToHigh } from '../forecast/draws'
import { ends, inHundred, roughly, weekName } from '../forecast/forecast_words'
import { oddsOf, rangeOf, stemsByDay, stemsOfWeek, type Which } from '../forecast/sums'
import { t, weekdayName } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { colourCalled } from '../ui/sale_words'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'
import { type WeekToCome, couldTake, dueIn } from '../forecast/to_come'
import { type RangeRow, RangeTable } from './RangeTable'
import { WeekPromises } from './WeekPromises'

interface WeekDetailProps {
  readonly week: WeekToCome
  readonly draws: Draws
  readonly which: Which
  readonly needs: readonly LineNeed[]
}

export function WeekDetail({ week, draws, which, needs }: WeekDetailProps) {
  const farm = useNotebook().farm.value
  const { grades, colours, days } = useMemo(() => rowsOf(week, draws, which), [week, draws, which])
  const due = dueIn(needs, week.first).filter((need) => couldTake(need, which))
  return (
    <section class="week-detail" aria-live="polite">
      <h2>{weekName(week.first)}</h2>
      <p><Marked text={t('ahead.week.say', { stems: t('stems', { n: roughly(week.stems.q50) }), ...ends(week.stems) })} /></p>
      {week.promised > 0 && <WeekPromises due={due} stems={week.promised} chance={inHundred(saleable(draws, week, which))} />}
      {grades.length > 1 && <RangeTable head={t('ahead.grades')} rows={grades.map(({ grade, stems }) => ({ key: grade, name: t(`grade.${grade}`), stems }))} />}
      {colours.length > 1 && (
        <RangeTable
          head={t('ahead.colours')}
          rows={colours.map(({ colour, stems }): RangeRow => ({
            key: colour, stems, name: <span class="ahead-colour"><Head swatch={(colour !== '' && farm.colours.get(colour)?.swatch) || ''} size={26} />{colour === '' ? t('ahead.colour.untold') : colourCalled(farm, colour)}</span>,
          }))}
        />
      )}
      <RangeTable head={t('ahead.days')} rows={days.map(({ day, stems }) => ({ key: day, name: `${weekdayName(weekdayOf(day))} ${Number(day.slice(8))}`, stems }))} />
    </section>
  )
}

/** How often as many stems that can be sold are cut in the week as are promised in it. */
function saleable(draws: Draws, { at, promised }: WeekToCome, { colours, grade }: Which): number {
  return oddsOf(stemsOfWeek(draws, at, { colours, grade: grade || 'second' }, today.value), promised)
}

function rowsOf({ at, first }: WeekToCome, draws: Draws, which: Which) {
  const of = (more: Which) => rangeOf(stemsOfWeek(draws, at, more, today.value))
  const least = which.grade === '' ? 0 : gradesLowToHigh.indexOf(which.grade)
  const grades = gradesHighToLow.filter((grade) => gradesLowToHigh.indexOf(grade) >= least).map((grade) => ({ grade, stems: rangeOf(gradeAlone(draws, at, which, grade)) }))
  const colours = draws.colours.filter((colour) => which.colours.length === 0 || which.colours.includes(colour))
    .map((colour) => ({ colour, stems: of({ colours: [colour], grade: which.grade }) })).filter(({ stems }) => stems.q95 >= 1)
    .sort((a, b) => b.stems.mean - a.stems.mean)
  const days = stemsByDay(draws, at, which).map((stems, weekday) => ({ day: addDays(first, weekday), stems: rangeOf(stems) }))
  return { grades, colours, days: days.filter(({ day }) => day >= today.value && day >= draws.from) }
}

/** Stems of one grade: those of it and better less those that are better. */
function gradeAlone(draws: Draws, at: number, { colours }: Which, grade: (typeof gradesLowToHigh)[number]): Float64Array {
  const least = (one: typeof grade) => stemsOfWeek(draws, at, { colours, grade: one === 'out' ? '' : one }, today.value)
  const better = gradesLowToHigh[gradesLowToHigh.indexOf(grade) + 1]
  const without = better && least(better)
  return least(grade).map((stems, draw) => stems - (without?.[draw] ?? 0))
}
