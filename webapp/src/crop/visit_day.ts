// What the day of a visit says: which flush it is of, and whether there can be a visit on it.

import { parseDay } from './day'
import type { Bed, BedID, Day, Farm, Flush, Season } from './nouns'

/** A bed's flush on a day: fall from the day it was cut back. */
export function flushOf(bed: Bed | undefined, season: Season, day: Day): Flush {
  const cutBack = bed?.cutBack.get(season)
  return cutBack !== undefined && day >= cutBack ? 'fall' : 'spring'
}

export type DayProblem = 'unknown' | 'future' | 'before_planting'

/** Why what was cut in a bed cannot bear this date, or undefined. */
export function dayProblem(farm: Pick<Farm, 'plantings'>, bed: BedID | '', date: string, now: Day): DayProblem | undefined {
  if (parseDay(date) === undefined) return 'unknown'
  if (date > now) return 'future'
  const planted = [...farm.plantings.values()].filter((p) => p.bed === bed && p.planted !== '').map((p) => p.planted as string)
  return planted.length > 0 && planted.every((day) => day > date) ? 'before_planting' : undefined
}
