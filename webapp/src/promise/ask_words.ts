// How an ask, its chance and what would help are put into words.

import type { Day, Farm } from '../crop/nouns'
import { weekdayOf } from '../crop/due'
import type { Help } from '../forecast/asking'
import { weekNumber } from '../forecast/forecast_words'
import { dayAndMonth, dayName, t, weekdayName } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { colourCalled } from '../ui/sale_words'
import { today } from '../ui/today'

/** "Wed 3 Jun", where there is little room. */
export function dayShort(day: Day): string {
  return `${weekdayName(weekdayOf(day))} ${dayAndMonth(day)}`
}

/** "w23, 1 Jun" */
export function weekShort(monday: Day): string {
  return t('promise.week.from', { week: weekNumber(monday), day: dayAndMonth(monday) })
}

/** "Wed 3 June", or "any day of w23". */
export function whenText(from: Day, due: Day): string {
  return from === due ? dayName(due, today.value) : t('promise.week.any', { week: weekNumber(from) })
}

/** "With coral too it would be 265." */
export function helpText(farm: Farm, help: Help): string {
  const n = help.safe
  switch (help.kind) {
    case 'colour': return t('promise.help.colour', { colour: colourCalled(farm, help.colour), n })
    case 'grade': return t('promise.help.grade', { grade: t(`grade.${help.grade || 'untold'}`), n })
    case 'length': return help.length === 0 ? t('promise.help.any_length', { n }) : t(farm.unit === 'in' ? 'promise.help.length.in' : 'promise.help.length.cm', { lo: inUnit(help.length, farm.unit), n })
    case 'day': return t('promise.help.day', { day: dayName(help.day, today.value), n })
    case 'week': return t('promise.help.week', { week: weekShort(help.from), n })
  }
}
