// Stems of a line that a buyer claims, against those that were packed for it.

import { stemsPacked } from './over_packed'
import type { ClaimID, LineID, Sales } from './sale_nouns'

/** Of all claims of the line but one that is being written anew. */
export function stemsClaimed(sales: Sales, line: LineID, but?: ClaimID): number {
  return [...sales.claimsOf.get(line) ?? []].reduce((sum, id) => (id === but ? sum : sum + (sales.claims.get(id)?.stems ?? 0)), 0)
}

/** A line of which more stems are claimed than were packed. */
export interface OverClaimed {
  readonly line: LineID
  readonly claimed: number
  readonly packed: number
}

export function overClaimed(sales: Sales): OverClaimed[] {
  return [...sales.claimsOf.keys()].flatMap((line) => overClaimedLine(sales, line) ?? [])
}

export function overClaimedLine(sales: Sales, line: LineID): OverClaimed | undefined {
  const claimed = stemsClaimed(sales, line)
  const packed = claimed === 0 ? 0 : stemsPacked(sales, line)
  return packed > 0 && claimed > packed ? { line, claimed, packed } : undefined
}
