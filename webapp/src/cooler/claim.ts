// A claim as it is typed, and the facts that it makes.

import { withdrawnFact } from '../crop/facts'
import { parseLotCell } from '../crop/lots'
import type { Day, PersonID } from '../crop/nouns'
import { claimFacts } from '../crop/sale_facts'
import { type Cents, type ClaimID, type ClaimReason, type Line, mostCents, type Packed } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { parseAmount } from '../ui/money'
import { stemsTyped } from './stems_typed'

export interface ClaimTyped {
  readonly stems: string
  readonly reason: ClaimReason
  /** '' where nobody knows of which lot. */
  readonly lot: string
  readonly back: boolean
  /** '' is no credit. */
  readonly credit: string
  readonly what: string
}

export type ClaimProblem = 'stems' | 'too_many' | 'credit'

export interface ClaimMade {
  readonly facts: readonly Fact[]
  readonly undo: readonly Fact[]
  readonly stems: number
}

/** The claim of what was packed for a line, or why it cannot be. */
export function claimMade(
  typed: ClaimTyped, packed: Pick<Packed, 'line' | 'buyer' | 'due'>, stemsPacked: number,
  by: { readonly id: ClaimID; readonly date: Day; readonly person: PersonID | '' },
): ClaimMade | ClaimProblem {
  const stems = stemsTyped(typed.stems)
  if (stems === undefined) return 'stems'
  if (stemsPacked > 0 && stems > stemsPacked) return 'too_many'
  const credit = typed.credit.trim() === '' ? (0 as Cents) : parseAmount(typed.credit)
  if (credit === undefined) return 'credit'
  const { line, buyer, due } = packed
  const lot = typed.lot === '' ? undefined : parseLotCell(typed.lot)
  const facts = claimFacts({ ...by, line, buyer, due, lot, stems, reason: typed.reason, back: typed.back, credit, what: typed.what.trim() })
  return { facts, undo: [withdrawnFact('claim', by.id, true, 'shed')], stems }
}

/** What so many stems of a line cost, in whole cents, half a cent up; undefined where no price is known. */
export function priceOfStems(line: Pick<Line, 'price' | 'stems'> | undefined, stems: number): Cents | undefined {
  if (!line || line.price <= 0 || line.stems <= 0) return undefined
  const cents = Math.floor((2 * line.price * stems + line.stems) / (2 * line.stems))
  return cents > mostCents ? undefined : (cents as Cents)
}
