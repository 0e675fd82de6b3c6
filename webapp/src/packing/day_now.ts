// What the bunches of a day are drawn from: its lines with what is packed of them, and the lots that may still go to one.
// Worked out once for the farm as it stands: a screen has a row for each of sixty lines, and each asks.

import { type Lot, lotsDay, sellable } from '../crop/cooler'
import type { Day, Farm } from '../crop/nouns'
import { type Meant, meantFor } from './draw'
import { type DueLine, dueLines } from './due_lines'
import type { PackingAnswer } from './packing_answer'

export class DayNow {
  private last: { readonly plan: PackingAnswer | undefined; readonly meant: Meant } | undefined

  /** The lots that may go to whoever is to have them on the day, the oldest first. */
  constructor(readonly lines: readonly DueLine[], readonly lots: readonly Lot[]) {}

  /** What a plan still means for the lines. */
  meant(plan: PackingAnswer | undefined): Meant {
    if (this.last?.plan !== plan || !this.last) this.last = { plan, meant: meantFor(plan, this.lines) }
    return this.last.meant
  }
}

type Selling = Pick<Farm, 'sales' | 'lots'>

interface Known {
  readonly lots: Selling['lots']
  readonly days: Map<string, DayNow>
}

const known = new WeakMap<Selling['sales'], Known>()

/** The same object until something changes of what is sold or of the lots. */
export function dayNow({ sales, lots }: Selling, day: Day, today: Day): DayNow {
  let under = known.get(sales)
  if (under?.lots !== lots) known.set(sales, under = { lots, days: new Map() })
  const key = `${day} ${today}`
  const now = under.days.get(key) ?? new DayNow(dueLines(sales, day), sellable({ sales, lots }, lotsDay(sales.terms, day, today)))
  under.days.set(key, now)
  return now
}
