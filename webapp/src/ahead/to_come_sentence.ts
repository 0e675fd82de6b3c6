// The sentence that a grower would say of what is to come.

import type { Farm, Grade, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { ends, roughly, weekName } from '../forecast/forecast_words'
import type { Which } from '../forecast/sums'
import { count, listed, t } from '../messages/messages'
import { colourCalled } from '../ui/sale_words'
import { today } from '../ui/today'
import type { ToCome } from '../forecast/to_come'

export function toComeSentence(farm: Farm, { total, heaviest, weeks }: ToCome, which: Which, season: Season): string {
  const of = whichSaid(farm, which)
  const when = season === seasonOf(farm.calendar, today.value) ? t('ahead.season.this') : t('ahead.season.of', { season: String(season) })
  if (!heaviest) return of === '' ? t('ahead.say.none', { when }) : t('ahead.say.none.of', { of, when })
  const week = weekName(heaviest.first)
  const stems = t('stems', { n: roughly(total.q50) })
  const said = of === '' ? stems : t('ahead.say.stems.of', { stems, of })
  if (total.q50 < 1) return t('ahead.say.perhaps', { when, hi: count(roughly(total.q95)), of: of === '' ? '' : ` (${of})` })
  const args = { stems: said, week, when, ...ends(total) }
  return weeks.filter(({ stems: { q95 } }) => q95 >= 1).length === 1 ? t('ahead.say.week', args) : t('ahead.say', args)
}

/** "ember and coral, first and better"; '' where all are meant. */
export function whichSaid(farm: Farm, { colours, grade }: Which): string {
  const parts = colours.length === 0 ? [] : [listed(colours.map((id) => (id === '' ? t('ahead.colour.untold') : colourCalled(farm, id))))]
  return [...parts, ...(grade === '' ? [] : [leastGradeName(grade)])].join(', ')
}

/** "first and better"; the best is alone. */
export function leastGradeName(grade: Grade): string {
  return grade === 'first' || grade === 'second' ? t(`ahead.grade.${grade}`) : t(`grade.${grade}`)
}
