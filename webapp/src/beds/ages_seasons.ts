// Whether the newest season stands out from the former ones of the same age.

import type { Season } from '../crop/nouns'
import type { Age, Interval, SeasonStems } from './ages_report'

export interface StandsOut {
  readonly season: Season
  readonly age: number
  readonly mean: number
  /** The mean of the former seasons of that age, by their living plants. */
  readonly before: number
}

/** The newest season in which any age was seen that was seen before too; undefined where there is none. */
export function newestCompared(ages: readonly Age[]): Season | undefined {
  const newest = ages.flatMap(({ seasons = [] }) => (seasons.length > 1 ? seasons.map(({ season }) => season) : []))
  return newest.length === 0 ? undefined : newest.reduce((a, b) => (a > b ? a : b))
}

/** Of the ages in which the newest season differs from the former ones, the one where it differs most. */
export function standsOut(ages: readonly Age[]): StandsOut | undefined {
  const season = newestCompared(ages)
  let most: (StandsOut & { weight: number }) | undefined
  for (const { age, seasons = [] } of ages) {
    const now = seasons.find((one) => one.season === season)
    const former = seasons.filter((one) => one !== now)
    if (!now || former.length === 0) continue
    const before = together(former)
    const weight = difference(now, before)
    if (weight > 1 && weight > (most?.weight ?? 0)) most = { season: now.season, age, mean: now.mean, before: before.mean, weight }
  }
  return most
}

/** Half the width of an interval of logs. */
function half({ lo, hi }: Interval): number {
  return (Math.log(hi) - Math.log(lo)) / 2
}

/**
 * How far apart two means are, in half-widths of the interval of their difference: logs of independent
 * means add their variances. Those of one fit share much and rather differ together, so this is careful.
 */
function difference(a: Interval, b: Interval): number {
  if (a.lo <= 0 || b.lo <= 0) return 0
  return Math.abs(Math.log(a.mean) - Math.log(b.mean)) / Math.hypot(half(a), half(b))
}

/** Seasons as one, by their living plants. */
function together(seasons: readonly SeasonStems[]): Interval {
  const alive = seasons.reduce((sum, one) => sum + one.alive, 0)
  const mean = seasons.reduce((sum, one) => sum + (one.alive / alive) * one.mean, 0)
  const spread = Math.hypot(...seasons.map((one) => (one.alive / alive) * half(one)))
  return { mean, lo: mean / Math.exp(spread), hi: mean * Math.exp(spread) }
}
