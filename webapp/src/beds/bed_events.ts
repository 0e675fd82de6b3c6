// What was done to a bed in a season, cutting back among it.

import type { Bed, BedEvent, Day, Farm, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'

export type Done =
  | { readonly kind: 'event'; readonly date: Day; readonly event: BedEvent }
  | { readonly kind: 'cut_back'; readonly date: Day }

/** The newest first; of one day, cutting back first, since it ends what the rest was done for. */
export function doneIn(farm: Pick<Farm, 'events' | 'calendar'>, bed: Bed, season: Season): Done[] {
  const done: Done[] = []
  const cutBack = bed.cutBack.get(season)
  if (cutBack !== undefined) done.push({ kind: 'cut_back', date: cutBack })
  for (const event of farm.events.values()) {
    if (event.bed === bed.id && seasonOf(farm.calendar, event.date) === season) done.push({ kind: 'event', date: event.date, event })
  }
  return done.sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0))
}
