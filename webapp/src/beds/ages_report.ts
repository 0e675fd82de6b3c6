// What the shed's model says of a crop, as it travels (internal/yield/report.go), and whether something
// that came or was kept has that form.

import type { BedID, Flush, Grade, PersonID, PlantID, Season } from '../crop/nouns'
import { eachOf, having, listOf, maybe, type Note, note, numbers, numeric, text, truth } from '../ui/json_form'

export type { Note } from '../ui/json_form'

export interface Report {
  /** Coverage of every interval, such as 0.9. */
  readonly level: number
  readonly prior: string
  readonly ages: readonly Age[]
  readonly plants?: readonly PlantWorth[]
  readonly spread?: Spread
  readonly survival?: Survival
  readonly rests?: readonly Rest[]
  readonly notes: readonly Note[]
}

export interface Interval {
  readonly mean: number
  readonly lo: number
  readonly hi: number
}

export interface Age {
  readonly age: number
  readonly plant_seasons: number
  readonly zero: number
  readonly stems: Stems
  readonly stems_total: number
  /** Living plants over which `stems` is the mean; those set out in their plantings; those counted that gave a stem. */
  readonly alive: number
  readonly set_out: number
  readonly cut_from: number
  readonly seasons?: readonly SeasonStems[]
  readonly beds?: readonly BedStems[]
  /** The mean in another season, of another planting in another bed. */
  readonly ahead?: Interval
  /** What the counted plants gave on average. */
  readonly plain?: number
  readonly practice?: Interval
  readonly grades: readonly GradeCell[]
  readonly length_cm?: Readonly<Partial<Record<Flush | '', Interval>>>
  readonly plants: readonly Dot[]
}

export interface Stems extends Interval {
  readonly size: number
  readonly new_lo: number
  readonly new_hi: number
}

export interface SeasonStems extends Interval {
  readonly season: Season
  readonly alive: number
}

export interface BedStems extends SeasonStems {
  readonly bed: BedID
  readonly name: string
}

export interface GradeCell {
  readonly flush: Flush | ''
  readonly stems: number
  readonly plants: number
  readonly p: ByGrade
  readonly lo: ByGrade
  readonly hi: ByGrade
}

export type ByGrade = Readonly<Record<Grade, number>>

/** A counted plant in a season. */
export interface Dot {
  readonly plant: PlantID
  readonly code: string
  readonly season: Season
  readonly stems: number
  readonly open: boolean
}

/** A counted plant beside the others of its kind. */
export interface PlantWorth {
  readonly plant: PlantID
  readonly code: string
  readonly seasons: number
  /** How many times as many stems it gives as the middle plant. */
  readonly times: Interval
  /** The chance that it is among the best tenth. */
  readonly best_tenth: number
  /** The share of extra stems that it would give in the spring of its second season. */
  readonly extra?: Interval
}

/** By what factor one that stands a standard deviation above the middle exceeds it. */
export interface Spread {
  readonly plants: Interval
  readonly seasons: Interval
  readonly plantings: Interval
  readonly beds: Interval
  /** How many times as much an uncounted plant gives as a counted one; of how many bed totals that was learned. */
  readonly uncounted: Interval
  readonly totals: number
  /** Everybody's for an owner, and their own for others. */
  readonly graders?: readonly Grader[]
}

/** On the logit scale: above 0 kinder than the middle grader. */
export interface Grader extends Interval {
  readonly person: PersonID
  readonly stems: number
}

export interface Survival {
  readonly ages: readonly SurvivalAge[]
  readonly denominators: readonly Denominators[]
  readonly notes: readonly Note[]
}

/** The chance that a plant which begins a season in the ground begins the next. */
export interface SurvivalAge {
  readonly age: number
  readonly at_start: number
  readonly lost: number
  readonly planting_seasons: number
  readonly p: number
  readonly lo: number
  readonly hi: number
  /** Of one more planting, a season ahead. */
  readonly new_lo: number
  readonly new_hi: number
}

export interface Denominators {
  readonly age: number
  readonly season: Season
  readonly set_out: number
  readonly at_start: number
  readonly running: boolean
}

/** How the intervals of one model were found. */
export interface Rest {
  readonly model: string
  readonly basis: string
  readonly draws: number
  /** Independent draws that they are worth. */
  readonly worth: number
}

const interval = numbers('mean', 'lo', 'hi')
const byGrade = having(numbers('extra', 'first', 'second', 'out'))

const age = having({
  ...numbers('age', 'plant_seasons', 'zero', 'stems_total', 'alive', 'set_out', 'cut_from'),
  stems: having({ ...interval, ...numbers('size', 'new_lo', 'new_hi') }),
  seasons: maybe(listOf(having({ ...interval, ...numbers('season', 'alive') }))),
  beds: maybe(listOf(having({ ...interval, ...numbers('season', 'alive'), bed: text, name: text }))),
  ahead: maybe(having(interval)),
  plain: maybe(numeric),
  practice: maybe(having(interval)),
  grades: listOf(having({ flush: text, ...numbers('stems', 'plants'), p: byGrade, lo: byGrade, hi: byGrade })),
  length_cm: maybe(eachOf(having(interval))),
  plants: listOf(having({ plant: text, code: text, ...numbers('season', 'stems'), open: truth })),
})

const worth = having({
  plant: text, code: text, ...numbers('seasons', 'best_tenth'), times: having(interval), extra: maybe(having(interval)),
})

const spread = having({
  plants: having(interval), seasons: having(interval), plantings: having(interval), beds: having(interval),
  uncounted: having(interval), totals: numeric,
  graders: maybe(listOf(having({ person: text, stems: numeric, ...interval }))),
})

const survival = having({
  ages: listOf(having(numbers('age', 'at_start', 'lost', 'planting_seasons', 'p', 'lo', 'hi', 'new_lo', 'new_hi'))),
  denominators: listOf(having({ ...numbers('age', 'season', 'set_out', 'at_start'), running: truth })),
  notes: listOf(note),
})

const report = having({
  level: numeric, prior: text, ages: listOf(age), plants: maybe(listOf(worth)), spread: maybe(spread),
  survival: maybe(survival), rests: maybe(listOf(having({ model: text, basis: text, ...numbers('draws', 'worth') }))),
  notes: listOf(note),
})

/** Whether something has the form of a report. What a phone kept of an earlier version has not. */
export function isReport(value: unknown): value is Report {
  return report(value)
}
