// The warmth by which plants grow, from a day's lowest and highest temperature. Mirrors internal/degreedays.
//
// A degree-day is one degree above the lower threshold for a day, in the degrees of the temperatures and thresholds.

import type { WarmMethod } from './ahead_nouns'

export interface Temperatures {
  readonly min: number
  readonly max: number
}

/** The temperatures between which warmth counts: what is above the upper counts as if it were this warm. */
export interface Thresholds {
  readonly lower: number
  /** Infinity where there is none. */
  readonly upper: number
}

/** The degree-days of one day: 0 or more, and at most upper less lower. */
export function degreeDays(day: Temperatures, thresholds: Thresholds, method: WarmMethod): number {
  return method === 'average' ? byAverage(day, thresholds) : bySine(day, thresholds)
}

/** McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, method 1; what is above the upper threshold is cut to it first. */
function byAverage({ min, max }: Temperatures, { lower, upper }: Thresholds): number {
  return Math.max(0, (Math.min(min, upper) + Math.min(max, upper)) / 2 - lower)
}

/**
 * One sine wave through both: Baskerville and Emin 1969, Ecology 50:514-517; a horizontal cut-off as in Zalom et al. 1983,
 * Degree-days: the calculation and use of heat units in pest management, UC leaflet 21373.
 */
function bySine(day: Temperatures, { lower, upper }: Thresholds): number {
  // The difference of two nearly equal areas may come out a rounding below zero.
  return Math.max(0, sineAbove(day, lower) - sineAbove(day, upper))
}

/** The area between a temperature and the part of the day's wave above it. */
function sineAbove({ min, max }: Temperatures, threshold: number): number {
  const mean = (max + min) / 2
  const half = (max - min) / 2
  if (min >= threshold) return mean - threshold
  if (max <= threshold) return 0
  const crossing = Math.asin((threshold - mean) / half)
  return ((mean - threshold) * (Math.PI / 2 - crossing) + half * Math.cos(crossing)) / Math.PI
}
