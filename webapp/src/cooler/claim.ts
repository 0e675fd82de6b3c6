// A claim as it is typed, and the facts that it makes or changes.

import { withdrawnFact } from '../crop/facts'
import { lotCell, parseLotCell } from '../crop/lots'
import type { Day, PersonID } from '../crop/nouns'
import { claimChanges, claimFacts } from '../crop/sale_facts'
import { type Cents, type Claim, type ClaimID, type ClaimReason, type Line, mostCents, type Packed } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { parseAmount, typedAmount } from '../ui/money'
import { stemsTyped } from '../ui/stems_typed'

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

/** Stems of the line: all that were packed, 0 where nobody told, and those that other claims have. */
export interface Claimable {
  readonly packed: number
  readonly claimed: number
}

export type ClaimProblem = 'stems' | 'too_many' | 'left' | 'credit' | 'noted'

export interface ClaimMade {
  readonly facts: readonly Fact[]
  readonly undo: readonly Fact[]
  readonly stems: number
}

export function typedOf(claim: Claim): ClaimTyped {
  const { stems, reason, lot, back, credit, what } = claim
  return { stems: String(stems), reason, lot: lot ? lotCell(lot) : '', back, credit: credit === 0 ? '' : typedAmount(credit), what }
}

/** The claim of what was packed for a line, or why it cannot be. */
export function claimMade(
  typed: ClaimTyped, packed: Pick<Packed, 'line' | 'buyer' | 'due'>, of: Claimable,
  by: { readonly id: ClaimID; readonly date: Day; readonly person: PersonID | '' },
): ClaimMade | ClaimProblem {
  const read = readClaim(typed, of)
  if (typeof read === 'string') return read
  const { line, buyer, due } = packed
  return { facts: claimFacts({ ...by, line, buyer, due, ...read }), undo: [withdrawnFact('claim', by.id, true, 'shed')], stems: read.stems }
}

/** What is said of a claim that is written anew, or why it cannot be. A note freezes how many stems it credits, and for how much. */
export function claimChanged(typed: ClaimTyped, before: Claim, of: Claimable, noted: boolean): ClaimMade | ClaimProblem {
  const read = readClaim(typed, of)
  if (typeof read === 'string') return read
  if (noted && (read.stems !== before.stems || read.credit !== before.credit)) return 'noted'
  const after = { ...before, ...read }
  return { facts: claimChanges(before, after), undo: claimChanges(after, before), stems: read.stems }
}

function readClaim(typed: ClaimTyped, { packed, claimed }: Claimable): Pick<Claim, 'stems' | 'reason' | 'lot' | 'back' | 'credit' | 'what'> | ClaimProblem {
  const stems = stemsTyped(typed.stems)
  if (stems === undefined) return 'stems'
  if (packed > 0 && stems > packed) return 'too_many'
  if (packed > 0 && stems > packed - claimed) return 'left'
  const credit = typed.credit.trim() === '' ? (0 as Cents) : parseAmount(typed.credit)
  if (credit === undefined) return 'credit'
  const lot = typed.lot === '' ? undefined : parseLotCell(typed.lot)
  return { stems, reason: typed.reason, lot, back: typed.back, credit, what: typed.what.trim() }
}

/** What so many stems of a line cost, in whole cents, half a cent up; undefined where no price is known. */
export function priceOfStems(line: Pick<Line, 'price' | 'stems'> | undefined, stems: number): Cents | undefined {
  if (!line || line.price <= 0 || line.stems <= 0) return undefined
  const cents = Math.floor((2 * line.price * stems + line.stems) / (2 * line.stems))
  return cents > mostCents ? undefined : (cents as Cents)
}
