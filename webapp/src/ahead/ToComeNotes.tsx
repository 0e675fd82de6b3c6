// On what the forecast rests, and what is not in it.

import { useMemo } from 'preact/hooks'
import { daysBetween } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import type { ForecastAnswer, Silence } from '../forecast/forecast'
import { dayAndMonth, daysName, spanName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'

interface ToComeNotesProps {
  readonly answer: ForecastAnswer
  /** Weeks that are left out before the first that is shown. */
  readonly empty: number
  readonly firstShown: Day | undefined
  /** Nothing more is to come of all that grows. */
  readonly over: boolean
}

/** From so many days on the flush may have changed its pace since. */
const old = 2

export function ToComeNotes({ answer, empty, firstShown, over }: ToComeNotesProps) {
  const farm = useNotebook().farm.value
  const next = answer.season > seasonOf(farm.calendar, answer.asof)
  const counted = useMemo(() => whatWasCounted(farm, answer.asof), [farm.visitsVersion, answer.asof])
  const age = daysBetween(answer.asof, today.value)
  return (
    <>
      {age >= old && <p class="note warn">{t('ahead.old', { age: spanName(age * 86_400_000) })}</p>}
      {answer.silent && <p class="note warn">{silentText(answer.silent)}</p>}
      {counted === 'nothing' && <p class="note">{t('ahead.uncounted')}</p>}
      {next && !over && <p class="small">{t('ahead.next')}</p>}
      {counted === 'before' && !answer.silent && !next && !over && <p class="small">{t('ahead.counted.before')}</p>}
      {empty > 0 && firstShown !== undefined && <p class="small">{t('ahead.empty', { day: dayAndMonth(firstShown) })}</p>}
      {over && <p><a href={href('ahead', 'division')}>{t('ahead.next_season')}</a></p>}
    </>
  )
}

function silentText({ first, last, part }: Silence): string {
  return t('ahead.silent', { days: daysName(first, last), part: String(Math.round(100 * part)) })
}

/** Whether stems were counted until a day: in its season, before it, or never. */
function whatWasCounted({ visits, calendar }: Farm, asof: Day): 'now' | 'before' | 'nothing' {
  const season = seasonOf(calendar, asof)
  let found: 'before' | 'nothing' = 'nothing'
  for (const { date, counts } of visits.values()) {
    if (date > asof || !counts.some(({ stems }) => stems > 0)) continue
    if (seasonOf(calendar, date) === season) return 'now'
    found = 'before'
  }
  return found
}
