// What the shed says is still to come in the season: ranges by week for reading, and joint draws for asking.

import type { ColourID, Day, Flush, Grade, Season, StockID } from '../crop/nouns'
import { ShedAnswer } from '../ui/shed_answer'

/** The mean of a number of stems, and the numbers below which it stays with so much probability. */
export interface Range {
  readonly mean: number
  readonly q05: number
  readonly q25: number
  readonly q50: number
  readonly q75: number
  readonly q95: number
}

export interface ForecastWeek {
  /** ISO 8601, 2026-W22. */
  readonly week: string
  /** Its Monday. */
  readonly first: Day
  readonly total: Range
  readonly grades: Readonly<Record<Grade, Range>>
  /** '' is stems of plants whose colour nobody told. */
  readonly colours: Readonly<Record<ColourID | '', Range>>
}

/** When a flush that has not begun gives its first cut, and how likely it comes at all. */
export interface FirstCut {
  readonly stock: StockID
  readonly flush: Flush
  readonly q05: Day
  readonly q50: Day
  readonly q95: Day
  readonly chance: number
}

/** Numbers of days below which something stays with so much probability. */
export interface Days {
  readonly q05: number
  readonly q50: number
  readonly q95: number
}

/** How many days later this season's spring flush begins, earlier below 0: than in the farm's usual season, and than in common practice. */
export interface SeasonShift {
  readonly usual: Days
  readonly practice: Days
}

/** What the weather says, where the season goes by it. */
export interface Warmth {
  /** How many days before a usual year as much warmth has come; behind it below 0. */
  readonly ahead: number
  /** The past seasons that the usual year is the mean of. */
  readonly seasons: number
  /** Days without weather, for which the usual warmth stands in. */
  readonly filled: readonly { readonly first: Day, readonly last: Day }[]
}

/** Joint draws as they travel; see `unpackDraws`. */
export interface PackedDraws {
  readonly n: number
  /** The first day that they tell of. */
  readonly from: Day
  /** Mondays. */
  readonly weeks: readonly Day[]
  readonly colours: readonly (ColourID | '')[]
  /** Lower edges of length classes in millimetres, ascending, the first 0. */
  readonly lengths: readonly number[]
  /** Stems and days, in base64. */
  readonly coded: string
}

/** How near forecasts came, as continuous ranked probability scores in stems: less is better. */
export interface Scores {
  readonly weeks: readonly ScoredWeek[]
  readonly crps: number
  readonly again: number | null
  readonly year: number | null
  readonly pooled: number | null
  /** Weeks whose range of nine in ten held what came, of n. */
  readonly inside: number
  readonly n: number
  /** Weeks still to be scored: at a large farm the shed scores some at a time. */
  readonly left?: number
}

export interface ScoredWeek {
  readonly week: string
  readonly first: Day
  readonly came: number
  readonly mean: number
  readonly q05: number
  readonly q95: number
  readonly crps: number
  /** Last week again, the same week last year, and a pooled negative binomial; null where there is none. */
  readonly again: number | null
  readonly year: number | null
  readonly pooled: number | null
  /** Plants of which nobody told what they gave: they are in neither the forecast nor what came. */
  readonly unknown?: number
}

/** Days up to the forecast's without any cut, in which such a part of other seasons' stems came: the season looks half entered. */
export interface Silence {
  readonly first: Day
  readonly last: Day
  readonly part: number
}

export interface ForecastAnswer {
  readonly arrival: number
  readonly asof: Day
  /** The next, once nothing more comes of the one that the day lies in. */
  readonly season: Season
  readonly weeks: readonly ForecastWeek[]
  readonly first_cuts: readonly FirstCut[]
  readonly season_shift?: SeasonShift
  readonly warmth?: Warmth
  readonly draws: PackedDraws
  readonly scores: Scores
  readonly silent?: Silence
}

function isForecastAnswer(value: unknown): value is ForecastAnswer {
  const found = value as Partial<ForecastAnswer> | null
  return typeof found === 'object' && Array.isArray(found?.weeks) && Array.isArray(found.first_cuts) &&
    typeof found.draws?.coded === 'string' && Array.isArray(found.scores?.weeks)
}

export const forecast = new ShedAnswer<ForecastAnswer>({ path: '/api/forecast', kept: 'forecast', isAnswer: isForecastAnswer })
