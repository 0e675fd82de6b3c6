// A season's degree-days summed day by day, and how many days that is ahead of seasons before or behind them.

import type { DayWeather, Warmth } from './ahead_nouns'
import { addDays, daysBetween } from './day'
import { degreeDays } from './degree_days'
import type { Calendar, Day, Season } from './nouns'
import { span, springOf } from './season'

export type Weather = ReadonlyMap<Day, DayWeather>

/** How a farm reckons; a `Warmth` whose upper threshold is above its lower. */
export type WarmthRule = Pick<Warmth, 'lower' | 'upper' | 'method'>

/** Missing days in a row that are taken to lie between their neighbours; with more, sums are not compared. Common practice, no source. */
export const longestBridge = 7

export interface SeasonSum {
  readonly season: Season
  /** The first day told of, in days from the season's spring: so the same day of the year is the same number in leap years. */
  readonly from: number
  /** Degree-days of each day from there to the last one told of; what is missing between is estimated from its neighbours. */
  readonly days: readonly WarmDay[]
}

export interface WarmDay {
  readonly degreeDays: number
  /** By the end of the day. */
  readonly sum: number
  readonly told: boolean
}

/** Missing days between told ones, both ends included. */
export interface Gap {
  readonly first: Day
  readonly last: Day
  readonly days: number
}

/** Undefined where nothing of the season is told. */
export function seasonSum(weather: Weather, calendar: Calendar, season: Season, rule: WarmthRule): SeasonSum | undefined {
  const { from, to } = span(calendar, season)
  const told = [...weather.keys()].filter((day) => from <= day && day <= to).sort()
  const [first, last] = [told[0], told.at(-1)]
  if (first === undefined || last === undefined) return undefined
  const found = Array.from({ length: daysBetween(first, last) + 1 }, (_, i) => {
    const day = weather.get(addDays(first, i))
    return day && degreeDays(day, rule, rule.method)
  })
  let sum = 0
  const days = bridged(found).map((worth, i): WarmDay => ({ degreeDays: worth, sum: (sum += worth), told: found[i] !== undefined }))
  return { season, from: daysBetween(springOf(calendar, season), first), days }
}

/** What is missing lies on the straight line between its neighbours; the first and the last are there. */
function bridged(found: readonly (number | undefined)[]): number[] {
  const filled = [...found]
  for (let at = 1; at < found.length; at++) {
    if (filled[at] !== undefined) continue
    const behind = found.findIndex((worth, i) => i > at && worth !== undefined)
    const before = filled[at - 1]!
    filled[at] = before + (found[behind]! - before) / (behind - at + 1)
  }
  return filled as number[]
}

/** Days missing between the first and the last of some days. */
export function gapsAmong(days: Iterable<Day>): Gap[] {
  const sorted = [...days].sort()
  return sorted.slice(1).flatMap((day, i) => {
    const missing = daysBetween(sorted[i]!, day) - 1
    return missing > 0 ? [{ first: addDays(sorted[i]!, 1), last: addDays(day, -1), days: missing }] : []
  })
}

/**
 * 'cold': no warmth yet; 'gaps': too many days are missing in a row; 'apart': the two have no days in common; 'beyond': the
 * former season never came so far in what is told of it.
 */
export type NoLead = 'cold' | 'gaps' | 'apart' | 'beyond'

/**
 * By how many days a season is ahead of a former one on its last day told: the day on which the former had come so far, less
 * that day. Negative is behind. Both sums begin on the first day that both tell of.
 */
export function leadOver(now: SeasonSum, former: SeasonSum): number | NoLead {
  const from = Math.max(now.from, former.from)
  const at = now.from + now.days.length - 1
  if (from > at || from >= former.from + former.days.length) return 'apart'
  const reached = sumBetween(now, from, at)
  if (reached <= 0) return 'cold'
  const start = former.days[from - former.from - 1]?.sum ?? 0
  const on = former.days.findIndex(({ sum }, i) => i >= from - former.from && sum - start >= reached - 1e-9)
  if (on < 0) return 'beyond'
  const then = former.from + on
  return bridgeable(now, from, at) && bridgeable(former, from, then) ? then - at : 'gaps'
}

function sumBetween({ from, days }: SeasonSum, first: number, last: number): number {
  return (days[last - from]?.sum ?? 0) - (days[first - from - 1]?.sum ?? 0)
}

function bridgeable({ from, days }: SeasonSum, first: number, last: number): boolean {
  let missing = 0
  for (let at = first; at <= last; at++) {
    missing = days[at - from]?.told ? 0 : missing + 1
    if (missing > longestBridge) return false
  }
  return true
}

/** The middle of the leads over former seasons, in whole days; undefined where none can be told. */
export function usualLead(now: SeasonSum, formers: readonly SeasonSum[]): number | undefined {
  const leads = formers.map((former) => leadOver(now, former)).filter((lead) => typeof lead === 'number').sort((a, b) => a - b)
  if (leads.length === 0) return undefined
  return Math.round((leads[(leads.length - 1) >> 1]! + leads[leads.length >> 1]!) / 2)
}
