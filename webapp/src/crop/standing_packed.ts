// Deliveries of standing orders for which something is packed already: they are worked out, and what is packed names them.

import { type Due, dueOf, onDay } from './due'
import type { Day } from './nouns'
import { bunchesPacked } from './over_packed'
import type { LineID, OrderID, Sales, StandingID } from './sale_nouns'

/** Those of one standing order from a day on in whose place no order was written, the first first. */
export function packedDues(sales: Sales, standing: StandingID, from: Day): Due[] {
  const days = new Set<Day>()
  for (const line of sales.packedOf.keys()) {
    const parts = onDay(line)
    if (!parts || parts.day < from || sales.lines.get(parts.template as LineID)?.standing !== standing) continue
    if (bunchesPacked(sales, line) > 0) days.add(parts.day)
  }
  return [...days].sort().flatMap((day) => {
    const due = dueOf(sales, `${standing}@${day}` as OrderID)
    return due?.standing === standing ? [due] : []
  })
}

/** Bunches packed for a delivery, line by line together. */
export function packedFrom(sales: Sales, due: Pick<Due, 'lines'>): number {
  return due.lines.reduce((sum, { id }) => sum + bunchesPacked(sales, id), 0)
}
