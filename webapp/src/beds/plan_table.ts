// The shed's table of how precisely an age is known from so many counted plants, and the questions that
// a phone asks of it with no signal. Precision is half the width of the interval of the mean, in stems.
// The table is made by internal/counting, which names the sources.

import type { Season } from '../crop/nouns'

export interface PlanTable {
  /** Coverage of the intervals, such as 0.9. */
  readonly level: number
  /** The numbers of plants, rising, that the halves of each age stand for. */
  readonly plants: readonly number[]
  /** The assurances, rising, of each row of halves. */
  readonly assurance: readonly number[]
  readonly ages: readonly PlanAge[]
}

export interface PlanAge {
  readonly age: number
  /** The age whose counted plants the expectation rests on; 0 is common practice alone. */
  readonly from: number
  readonly half: Halves
  readonly reached: Reached | null
}

/** Half-widths from endlessly many plants, by plants and then by assurance. */
export type Halves = readonly (readonly number[])[]

/** What a season's counts came to so far. */
export interface Reached {
  readonly season: Season
  readonly plants: number
  /** Of them still being counted. */
  readonly open: number
  readonly mean: number
  /** null where it cannot be told: from one plant, or from plants that all gave the same. */
  readonly half: number | null
  readonly next: Halves | null
}

type Axes = Pick<PlanTable, 'plants' | 'assurance'>

/** The finite-population correction: sqrt(1 - n/N), Cochran 1977, Sampling Techniques, section 2.6. */
export function finite(n: number, standing: number): number {
  return n >= standing ? 0 : Math.sqrt(1 - n / standing)
}

/** The half-width kept to with an assurance, counting n of the plants standing: none from all of them,
 *  and without end from one. */
export function halfOf(axes: Axes, halves: Halves, n: number, standing: number, assurance: number): number {
  if (n >= standing) return 0
  if (n < 2) return Infinity
  const logs = logsAt(axes, halves, n)
  const i = below(axes.assurance, assurance)
  const [a, b] = [axes.assurance[i]!, axes.assurance[i + 1]!]
  return Math.exp(between(logs[i]!, logs[i + 1]!, (assurance - a) / (b - a))) * finite(n, standing)
}

/** The assurance with which n of the plants standing keep to a half-width; 0 is less than the table's
 *  least and 1 more than its most. */
export function assuranceOf(axes: Axes, halves: Halves, n: number, standing: number, half: number): number {
  if (n >= standing) return 1
  if (n < 2) return 0
  const logs = logsAt(axes, halves, n)
  const log = Math.log(half / finite(n, standing))
  if (log < logs[0]!) return 0
  if (log >= logs[logs.length - 1]!) return 1
  const i = below(logs, log)
  return between(axes.assurance[i]!, axes.assurance[i + 1]!, (log - logs[i]!) / (logs[i + 1]! - logs[i]!))
}

/** The least number of plants that keeps to a half-width with an assurance: all, if need be. */
export function plantsFor(axes: Axes, halves: Halves, half: number, standing: number, assurance: number): number {
  let [few, enough] = [0, standing]
  while (enough - few > 1) {
    const middle = Math.floor((few + enough) / 2)
    if (halfOf(axes, halves, middle, standing, assurance) <= half) enough = middle
    else few = middle
  }
  return enough
}

/** Log half-widths of n plants by assurance: straight in log n between two numbers of the table, and
 *  past the last falling as one over the square root of n. */
function logsAt({ plants }: Axes, halves: Halves, n: number): number[] {
  const last = plants.length - 1
  const most = plants[last]!
  if (n >= most) return halves[last]!.map((half) => Math.log(half) - Math.log(n / most) / 2)
  const i = below(plants, n)
  const part = Math.log(n / plants[i]!) / Math.log(plants[i + 1]! / plants[i]!)
  return halves[i]!.map((half, j) => between(Math.log(half), Math.log(halves[i + 1]![j]!), part))
}

/** Where a value falls among rising ones: the last that is no larger, but never the very last. */
function below(rising: readonly number[], value: number): number {
  let i = 0
  while (i < rising.length - 2 && rising[i + 1]! <= value) i++
  return i
}

function between(a: number, b: number, part: number): number {
  return a + (b - a) * part
}
