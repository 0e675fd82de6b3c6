// The weeks of the spring flush, those that came and those that are forecast: which is the heaviest, and from when on little is left.

import type { Day } from './nouns'
import type { Outlook, OutlookWeek } from './outlook'
import { littleLeft } from './task_practice'

/** The forecast's heaviest week; undefined where a heavier one is over, or nothing more is expected. */
export function heaviestWeek(outlook: Outlook, came: ReadonlyMap<Day, number>): OutlookWeek | undefined {
  const weeks = springWeeks(outlook)
  const heaviest = weeks.reduce<OutlookWeek | undefined>((most, week) => (week.total.mean > (most?.total.mean ?? 0) ? week : most), undefined)
  const heavier = [...came].some(([first, stems]) => heaviest !== undefined && first < heaviest.first && stems > heaviest.total.mean)
  return heavier ? undefined : heaviest
}

/** The Monday of the first week behind the heaviest of which little is expected; undefined where the forecast tells of none. */
export function littleLeftFrom(outlook: Outlook, came: ReadonlyMap<Day, number>): Day | undefined {
  const weeks = springWeeks(outlook)
  const all = [...[...came].map(([first, stems]) => ({ first, stems })), ...weeks.map(({ first, total }) => ({ first, stems: total.mean }))]
  const heaviest = all.reduce<{ first: Day; stems: number } | undefined>((most, week) => (week.stems > (most?.stems ?? 0) ? week : most), undefined)
  if (!heaviest) return undefined
  return weeks.find(({ first, total }) => first > heaviest.first && total.mean < littleLeft * heaviest.stems)?.first
}

/** Weeks before the fall flush may begin. */
function springWeeks({ weeks, first_cuts }: Outlook): readonly OutlookWeek[] {
  const fall = first_cuts.filter(({ flush }) => flush === 'fall').map(({ q05 }) => q05).sort()[0]
  return fall === undefined ? weeks : weeks.filter(({ first }) => first < fall)
}
