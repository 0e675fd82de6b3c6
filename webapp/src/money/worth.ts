// What one more plant of each species and age would bring. Mirrors internal/money/worth.go; amounts are cents with parts.

import type { Season } from '../crop/nouns'
import { ownersAlone } from '../sync/notebook'
import { having, listOf, numbers, numeric, text } from '../ui/json_form'
import { ticksTo } from '../ui/ticks'
import { Shelf } from './shelf'

/** A median and between which numbers nine in ten draws lie. */
export interface Interval {
  readonly median: number
  readonly lo: number
  readonly hi: number
}

export interface AgeWorth {
  readonly age: number
  readonly stems: Interval
  readonly cents: Interval
  /** Above a plant one season younger; of the first season 0. */
  readonly more_cents: Interval
}

export interface SpeciesWorth {
  readonly species: string
  readonly cutting_a_stem: number
  readonly bunching_a_stem: number
  readonly ages: readonly AgeWorth[]
}

export interface Worth {
  readonly season: Season
  readonly species: readonly SpeciesWorth[]
}

const interval = having(numbers('median', 'lo', 'hi'))
const age = having({ age: numeric, stems: interval, cents: interval, more_cents: interval })
const worth = having({ season: numeric, species: listOf(having({ species: text, ...numbers('cutting_a_stem', 'bunching_a_stem'), ages: listOf(age) })) })

export const isWorth = (value: unknown): value is Worth => worth(value)

/** Seasons whose answers are kept. */
const mostKept = 3

export const worthShelf = new Shelf<Worth>({ path: '/api/money/worth', kept: `${ownersAlone}worth`, isAnswer: isWorth, most: mostKept })

export function worthQuery(season: Season | undefined): string {
  return season === undefined ? '' : `?season=${season}`
}

/** Where intervals lie on one line, in hundredths of it; the line holds nought. */
export function placesOf(intervals: readonly Interval[]): (value: number) => number {
  const high = ticksTo(Math.max(1, ...intervals.map(({ hi }) => hi))).at(-1) ?? 1
  const low = Math.min(0, ...intervals.map(({ lo }) => lo))
  return (value) => ((value - low) / (high - low)) * 100
}
