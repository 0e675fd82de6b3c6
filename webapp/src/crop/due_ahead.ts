// What is still to be packed of what is due in the coming days and of what is overdue, in one number a day.

import { bunchesPacked } from './over_packed'
import type { Day } from './nouns'
import { toDeliver } from './overdue'
import type { Sales } from './sale_nouns'

export interface DueDay {
  readonly day: Day
  readonly stems: number
  readonly deliveries: number
}

/** The days until another on which something is still to be packed, those first on which it should have been. */
export function stillDue(sales: Sales, today: Day, to: Day): DueDay[] {
  const days = new Map<Day, { stems: number; deliveries: number }>()
  for (const due of toDeliver(sales, today, to)) {
    const stems = due.lines.reduce((sum, line) => sum + Math.max(0, line.bunches - bunchesPacked(sales, line.id)) * line.stems, 0)
    if (stems === 0) continue
    const before = days.get(due.day) ?? { stems: 0, deliveries: 0 }
    days.set(due.day, { stems: before.stems + stems, deliveries: before.deliveries + 1 })
  }
  return [...days].map(([day, of]) => ({ day, ...of }))
}
