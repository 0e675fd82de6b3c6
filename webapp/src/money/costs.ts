// Costs as they are listed, season by season.

import type { Cost, Money } from '../crop/money_nouns'
import type { Calendar, Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { seasonOf } from '../crop/season'

export interface SeasonCosts {
  /** The newest first. */
  readonly costs: readonly Cost[]
  readonly sum: Cents
  /** Of those that would have been spent whatever was grown. */
  readonly fixed: Cents
}

export function costsIn({ costs }: Pick<Money, 'costs'>, calendar: Calendar, season: Season): SeasonCosts {
  const found = [...costs.values()].filter(({ date }) => seasonOf(calendar, date) === season)
  found.sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : a.id < b.id ? -1 : 1))
  const sum = (all: readonly Cost[]) => all.reduce((total, { cents }) => total + cents, 0) as Cents
  return { costs: found, sum: sum(found), fixed: sum(found.filter(({ fixed }) => fixed)) }
}

/** The seasons that have costs, and one that is asked for, the newest first. */
export function costSeasons({ costs }: Pick<Money, 'costs'>, calendar: Calendar, also: Season): Season[] {
  const seasons = [...costs.values()].map(({ date }) => seasonOf(calendar, date))
  return [...new Set([also, ...seasons])].filter((season) => season > 0).sort((a, b) => b - a)
}
