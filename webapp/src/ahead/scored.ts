// How good the forecasts of past weeks were, beside plain rules, each compared over the weeks in which both said something.

import type { ScoredWeek } from '../forecast/forecast'

export const rules = ['again', 'year', 'pooled'] as const
export type Rule = (typeof rules)[number]

export interface Beside {
  readonly rule: Rule
  /** In which the rule said something. */
  readonly weeks: number
  /** Mean scores over those weeks, in stems. */
  readonly ours: number
  readonly its: number
  /** Hundredths by which ours are smaller than its; below zero they are larger. undefined where its are nought. */
  readonly smaller: number | undefined
}

/** Each rule that said anything. */
export function besideRules(weeks: readonly ScoredWeek[]): Beside[] {
  return rules.flatMap((rule) => {
    const both = weeks.filter((week) => week[rule] !== null)
    if (both.length === 0) return []
    const [ours, its] = [mean(both.map(({ crps }) => crps)), mean(both.map((week) => week[rule] ?? 0))]
    return [{ rule, weeks: both.length, ours, its, smaller: its > 0 ? Math.round(100 * (1 - ours / its)) : undefined }]
  })
}

export function held({ came, q05, q95 }: Pick<ScoredWeek, 'came' | 'q05' | 'q95'>): boolean {
  return q05 <= came && came <= q95
}

/**
 * Whether so few weeks were held that a range which holds nine in ten would hold no more in fewer than one of twenty
 * cases: by the binomial distribution, as though weeks were independent of each other, which they hardly are.
 */
export function tooNarrow(inside: number, n: number): boolean {
  let [chance, more] = [0.9 ** n, 0] // of all n, and of more than inside
  for (let k = n; k > inside; k--) {
    more += chance
    chance *= k / (n - k + 1) / 9
  }
  return 1 - more < 0.05
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length
}
