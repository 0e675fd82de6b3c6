// What was packed for a line, and with which lines something of it is wrong: more bunches than are ordered, or other stems
// than so many bunches have.

import { dueOf, onDay } from './due'
import type { Line, LineID, OrderID, Packed, Sales } from './sale_nouns'

/** A line as it was written, or as a standing order has it on its day; undefined where nobody orders it any more. */
export function lineOf(sales: Sales, id: LineID): Line | undefined {
  const written = sales.lines.get(id)
  if (written) return written.order === '' || sales.orders.has(written.order) ? written : undefined
  const parts = onDay(id)
  const template = parts && sales.lines.get(parts.template as LineID)
  if (!template || template.standing === '') return undefined
  return dueOf(sales, `${template.standing}@${parts.day}` as OrderID)?.lines.find((line) => line.id === id)
}

/** Bunches packed for a line by all who packed for it. */
export function bunchesPacked(sales: Sales, line: LineID): number {
  return packedFor(sales, line).reduce((sum, { bunches }) => sum + bunches, 0)
}

/** What was packed for a line, by whom and when. */
export function packedFor(sales: Sales, line: LineID): Packed[] {
  return [...sales.packedOf.get(line) ?? []].sort().flatMap((id) => sales.packed.get(id) ?? [])
}

/** Stems packed for a line, of all lots; 0 where nobody told of which lots it was packed. */
export function stemsPacked(sales: Sales, line: LineID): number {
  return packedFor(sales, line).reduce((sum, { stems }) => [...stems.values()].reduce((all, n) => all + n, sum), 0)
}

export function isOverPacked(sales: Sales, line: LineID): boolean {
  const packed = bunchesPacked(sales, line)
  return packed > 0 && packed > (lineOf(sales, line)?.bunches ?? 0)
}

/** A line changes while a tablet packs it elsewhere: then the papers would tell other stems than lie in the bunches. */
export function hasOtherStems(sales: Sales, line: LineID): boolean {
  const stems = stemsPacked(sales, line)
  const bunches = stems === 0 ? 0 : bunchesPacked(sales, line)
  const each = bunches <= 0 ? 0 : lineOf(sales, line)?.stems ?? 0
  return each > 0 && stems !== bunches * each
}
