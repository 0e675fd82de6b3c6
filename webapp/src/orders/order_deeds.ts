// Orders as they are written, changed and withdrawn, with what takes each back.

import type { Fact } from '../log/change'
import { addDays } from '../crop/day'
import { daysOfStanding, type Due, onDay } from '../crop/due'
import { withdrawnFact } from '../crop/facts'
import type { Day } from '../crop/nouns'
import { lineFacts, orderFacts, skipFacts, standingFacts } from '../crop/sale_facts'
import type { Line, LineID, Order, OrderID, Sales, StandingID, StandingOrder } from '../crop/sale_nouns'
import { changing, type Deed, together } from './deeds'

/** Something that has lines. */
export interface Written<T> {
  readonly head: T
  readonly lines: readonly Line[]
}

/** Makes a written order of a draft; before is the one that it takes the place of, if that was written. */
export function writeOrder(before: Written<Order> | undefined, after: Written<Order>): Deed {
  if (before) return together(changing(orderFacts(before.head), orderFacts(after.head)), changeLines(before.lines, after.lines))
  return together(
    { facts: [...orderFacts(after.head), ...raised('order', after.head.id)], undo: [away('order', after.head.id)] },
    changeLines([], after.lines),
  )
}

function changeLines(before: readonly Line[], after: readonly Line[]): Deed {
  const was = new Map(before.map((line) => [line.id, line]))
  const stays = new Set(after.map(({ id }) => id))
  return together(
    ...after.map((line): Deed => {
      const old = was.get(line.id)
      return old
        ? changing(lineFacts(old), lineFacts(line))
        : { facts: [...lineFacts(line), ...raised('line', line.id)], undo: [away('line', line.id)] }
    }),
    ...before.filter(({ id }) => !stays.has(id)).map(({ id }): Deed => ({ facts: [away('line', id)], undo: [back('line', id)] })),
  )
}

/** An id that is derived from a day may have been written and withdrawn before. */
function raised(type: 'order' | 'line', id: OrderID | LineID): Fact[] {
  return onDay(id) ? [back(type, id)] : []
}

function away(type: 'order' | 'line' | 'standing', id: string): Fact {
  return withdrawnFact(type, id, true, 'shed')
}

function back(type: 'order' | 'line' | 'standing', id: string): Fact {
  return withdrawnFact(type, id, false, 'shed')
}

/** Withdraws an order that was written, with its lines; one in place of a standing order's gives way to that again. */
export function withdrawOrder(due: Due): Deed {
  const all = [['order', due.order] as const, ...due.lines.map(({ id }) => ['line', id] as const)]
  return { facts: all.map(([type, id]) => away(type, id)), undo: all.map(([type, id]) => back(type, id)) }
}

/** Leaves a day of a standing order out, or takes that back. */
export function skipDay(standing: StandingID, day: Day, on: boolean): Deed {
  return { facts: skipFacts(standing, day, on), undo: skipFacts(standing, day, !on) }
}

/** The standing order in whose place an order was written and which would come again without it. */
export function standingBehind(sales: Sales, order: OrderID): { readonly standing: StandingOrder; readonly day: Day } | undefined {
  const parts = onDay(order)
  const standing = parts && sales.standings.get(parts.template as StandingID)
  return standing && daysOfStanding(standing, parts.day, parts.day).length > 0 ? { standing, day: parts.day } : undefined
}

/** Cancels a delivery: what stands in a standing order's place goes, and its day is left out. */
export function cancelDelivery(sales: Sales, due: Due): Deed {
  if (due.standing !== '') return skipDay(due.standing, due.day, true)
  const behind = standingBehind(sales, due.order)
  return behind ? together(withdrawOrder(due), skipDay(behind.standing.id, behind.day, true)) : withdrawOrder(due)
}

export function writeStanding({ head, lines }: Written<StandingOrder>): Deed {
  const undo = [away('standing', head.id), ...lines.map(({ id }) => away('line', id))]
  const skips = head.skips.flatMap((day) => skipFacts(head.id, day, true))
  return { facts: [...standingFacts(head), ...skips, ...lines.flatMap(lineFacts)], undo }
}

/** Changes a standing order as a whole, which also changes what it says of its past. */
export function changeStanding(before: Written<StandingOrder>, after: Written<StandingOrder>): Deed {
  return together(changing(standingFacts(before.head), standingFacts(after.head)), changeLines(before.lines, after.lines))
}

/** Ends a standing order with a day; deliveries of later days that were written stay. */
export function endStanding(standing: StandingOrder, last: Day): Deed {
  return changing(standingFacts(standing), standingFacts({ ...standing, until: last }))
}

/** Days of a standing order from one on that were written for themselves, which go on whatever becomes of it. */
export function writtenDays(sales: Sales, standing: StandingID, from: Day): Day[] {
  const days: Day[] = []
  for (const [due, orders] of sales.ordersDue) {
    if (due < from) continue
    for (const id of orders) {
      const parts = onDay(id)
      if (parts?.template === standing) days.push(parts.day)
    }
  }
  return days.sort()
}

/**
 * Changes a standing order from a day on: it ends the day before, and another begins. Days that were skipped stay so, and
 * those that were written for themselves are left out of the new one, or they would come twice.
 */
export function changeFrom(sales: Sales, before: StandingOrder, after: Written<StandingOrder>): Deed {
  const from = after.head.from
  const skips = [...new Set([...before.skips.filter((day) => day >= from), ...writtenDays(sales, before.id, from)])].sort()
  return together(endStanding(before, addDays(from, -1)), writeStanding({ head: { ...after.head, skips }, lines: after.lines }))
}
