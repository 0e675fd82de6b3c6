// A season's sum as steps from what was sold to what is left, and which beds paid.

import type { Cents } from '../crop/sale_nouns'
import type { Row } from './books'

export type StepName = 'sold' | 'kept' | 'fees' | 'fees_paid' | 'claims' | 'net' | 'costs' | 'work' | 'left'

export interface Step {
  readonly name: StepName
  /** Below 0 where it went. */
  readonly cents: Cents
  /** A sum, which stands on nothing; other steps lead from the one before to the next. */
  readonly isSum: boolean
  /** Where it is drawn: from the lesser to the greater, in cents. */
  readonly from: number
  readonly to: number
}

/** The steps; those of nothing are left out, but for the sums. */
export function stepsOf(row: Row): Step[] {
  const moves: readonly (readonly [StepName, number, boolean])[] = [
    ['sold', row.gross_cents, true],
    ['kept', -row.kept_cents, false], ['fees', -row.fees_cents, false], ['fees_paid', row.fees_paid_cents, false], ['claims', -row.claims_cents, false],
    ['net', row.net_cents, true],
    ['costs', -row.costs_cents, false], ['work', -row.work_cents, false],
    ['left', row.left_cents, true],
  ]
  let stands = 0
  const steps = moves.map(([name, cents, isSum]): Step => {
    const before = isSum ? 0 : stands
    stands = before + cents
    return { name, cents: cents as Cents, isSum, from: Math.min(before, stands), to: Math.max(before, stands) }
  })
  return steps.filter(({ cents, isSum }) => isSum || cents !== 0)
}

/** Beds of which something is left after what was spent and worked on them, and the others; the best first. */
export function bedsThatPaid(rows: readonly Row[]): { readonly paid: readonly Row[]; readonly not: readonly Row[] } {
  const beds = rows.filter(({ key }) => key !== '').sort((a, b) => b.left_cents - a.left_cents)
  return { paid: beds.filter(({ left_cents: left }) => left > 0), not: beds.filter(({ left_cents: left }) => left <= 0) }
}

/** What is left of each stem that was sold, in cents with parts; undefined where none was. */
export function leftAStem({ left_cents: left, stems }: Row): number | undefined {
  return stems > 0 ? left / stems : undefined
}
