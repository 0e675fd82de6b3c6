// One bunch of what was packed for a line, to be taken back.

import { parseLotCell } from './lots'
import { lineOf, packedFor } from './over_packed'
import type { LineID, Packed, PackedID, Sales } from './sale_nouns'

/** A bunch that was packed: under which id, and how many stems of which lot (`lotCell`). */
export interface OneBunch {
  readonly packed: PackedID
  readonly stems: readonly (readonly [string, number])[]
}

/**
 * The bunch that is taken back where nobody remembers which lots the last one was of: of what was packed last, the stems
 * of a bunch from its youngest lots, since the oldest are sold first. With its last bunch all of its stems go back.
 */
export function oneBunchOf(sales: Sales, line: LineID): OneBunch | undefined {
  const last = packedFor(sales, line).filter(({ bunches }) => bunches > 0).sort((a, b) => compare(a.date, b.date) || compare(a.id, b.id)).at(-1)
  return last && { packed: last.id, stems: stemsOfOne(last, lineOf(sales, line)?.stems ?? 0) }
}

function stemsOfOne({ bunches, stems }: Packed, ofBunch: number): (readonly [string, number])[] {
  const lots = [...stems].filter(([, n]) => n > 0).sort(([a], [b]) => compare(cutOf(b), cutOf(a)) || compare(a, b))
  if (bunches === 1) return lots
  const all = lots.reduce((sum, [, n]) => sum + n, 0)
  let left = ofBunch > 0 ? Math.min(ofBunch, all) : Math.floor(all / bunches)
  return lots.flatMap(([cell, n]) => {
    const taken = Math.min(n, left)
    left -= taken
    return taken > 0 ? [[cell, taken] as const] : []
  })
}

/** Tells whether a bunch that was remembered is still there to be taken back. */
export function isThere(sales: Sales, { packed, stems }: OneBunch): boolean {
  const now = sales.packed.get(packed)
  return now !== undefined && now.bunches > 0 && stems.every(([cell, n]) => (now.stems.get(cell) ?? 0) >= n)
}

function cutOf(cell: string): string {
  return parseLotCell(cell)?.cut ?? ''
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
