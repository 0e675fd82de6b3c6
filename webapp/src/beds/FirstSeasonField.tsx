// Which season will be the first of what is planted: proposed by a rule that is said, and changed by a tap.

import { yearOf } from '../crop/day'
import type { Calendar, Day, Season } from '../crop/nouns'
import { firstSeasonOf } from '../crop/planting_out'
import { t } from '../messages/messages'
import { Marked } from '../ui/Say'

interface FirstSeasonFieldProps {
  readonly calendar: Calendar
  readonly day: Day
  readonly season: Season
  readonly onSeason: (season: Season) => void
}

export function FirstSeasonField({ calendar, day, season, onSeason }: FirstSeasonFieldProps) {
  const proposed = firstSeasonOf(calendar, day)
  const near = [proposed - 1, proposed, proposed + 1] as Season[]
  const rule = season !== proposed ? 'yours' : calendar.southern ? 'south' : proposed === yearOf(day) ? 'same' : 'next'
  return (
    <fieldset class="field">
      <legend>{t('lineage.season')}</legend>
      <div class="choices">
        {near.map((one) => <button key={one} type="button" class="btn" aria-pressed={one === season} onClick={() => onSeason(one)}>{String(one)}</button>)}
      </div>
      <p class="small"><Marked text={t(`lineage.season.${rule}`, { year: String(season) })} /></p>
    </fieldset>
  )
}
