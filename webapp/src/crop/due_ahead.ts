// What is still to be packed of what is due in the coming days, in one number a day.

import { dueBetween } from './due'
import { bunchesPacked } from './over_packed'
import type { Day } from './nouns'
import type { Sales } from './sale_nouns'

export interface DueDay {
  readonly day: Day
  readonly stems: number
  readonly deliveries: number
}

/** The days from one to another on which something is still to be packed. */
export function stillDue(sales: Sales, from: Day, to: Day): DueDay[] {
  const days = new Map<Day, { stems: number; deliveries: number }>()
  for (const due of dueBetween(sales, from, to)) {
    const stems = due.lines.reduce((sum, line) => sum + Math.max(0, line.bunches - bunchesPacked(sales, line.id)) * line.stems, 0)
    if (stems === 0) continue
    const before = days.get(due.day) ?? { stems: 0, deliveries: 0 }
    days.set(due.day, { stems: before.stems + stems, deliveries: before.deliveries + 1 })
  }
  return [...days].map(([day, of]) => ({ day, ...of }))
}
