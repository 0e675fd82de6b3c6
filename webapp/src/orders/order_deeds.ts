// Orders as they are written, changed and withdrawn, with what takes each back.

import { changing, type Deed, nothing, together } from '../crop/deed'
import type { Fact } from '../log/change'
import { addDays } from '../crop/day'
import { daysOfStanding, type Due, onDay } from '../crop/due'
import { withdrawnFact } from '../crop/facts'
import type { Day } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import { successorID } from '../crop/successors'
import { packedDues } from '../crop/standing_packed'
import { bunchFact, lineFacts, orderFacts, skipFacts, standingFacts } from '../crop/sale_facts'
import type { Line, LineID, Order, OrderID, Sales, StandingID, StandingOrder } from '../crop/sale_nouns'

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

/**
 * Writes an order that is not among the written ones, whatever was written under its id before: in place of a standing
 * order's delivery, or once more after it was withdrawn.
 */
export function writeAgain(sales: Sales, { head, lines }: Written<Order>): Deed {
  const left = [...sales.linesOf.get(head.id) ?? []].flatMap((id) => sales.lines.get(id) ?? [])
  const order = { facts: [...orderFacts(head), back('order', head.id)], undo: [away('order', head.id)] }
  return together(order, changeLines(left, lines), raiseLines(sales, lines))
}

/** Brings lines back that may have been withdrawn; what wrote them takes them back. */
export function raiseLines(sales: Sales, lines: readonly Line[]): Deed {
  return { facts: lines.filter(({ id }) => !sales.lines.has(id)).map(({ id }) => back('line', id)), undo: [] }
}

/** A delivery as the order that it is, or would be if it were written. */
export function asWritten(sales: Sales, due: Due): Written<Order> {
  const head = sales.orders.get(due.order) ?? { id: due.order, buyer: due.buyer, due: due.day, taken: '', note: due.note }
  return { head, lines: due.lines }
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

/**
 * Cancels a delivery: of a standing order its day is left out, and what stands in its place goes. What is packed stays
 * ordered, as many bunches as there are, or nobody would know for whom it was and what to bill.
 */
export function cancelDelivery(sales: Sales, due: Due): Deed {
  const behind = due.standing !== '' ? { id: due.standing, day: due.day } : behindOf(sales, due.order)
  return together(noMoreThanPacked(sales, due), behind ? skipDay(behind.id, behind.day, true) : nothing)
}

function behindOf(sales: Sales, order: OrderID): { readonly id: StandingID; readonly day: Day } | undefined {
  const behind = standingBehind(sales, order)
  return behind && { id: behind.standing.id, day: behind.day }
}

/** Orders of a delivery no more than is packed; where nothing is, a written one is withdrawn. */
export function noMoreThanPacked(sales: Sales, due: Due): Deed {
  const lines = due.lines.flatMap((line) => {
    const packed = bunchesPacked(sales, line.id)
    return packed > 0 ? [{ ...line, bunches: Math.min(line.bunches, packed) }] : []
  })
  const before = asWritten(sales, due)
  if (due.standing !== '') return lines.length > 0 ? writeAgain(sales, { ...before, lines }) : nothing
  return lines.length > 0 ? writeOrder(before, { ...before, lines }) : withdrawOrder(due)
}

/** Whether a standing order could take the place of an order again, and nothing that is packed would be left without a line. */
export function mayGoBack(sales: Sales, due: Due): boolean {
  const behind = due.standing === '' ? standingBehind(sales, due.order) : undefined
  if (!behind) return false
  const again = new Map([...sales.linesOf.get(behind.standing.id) ?? []].map((id) => [`${id}@${behind.day}`, sales.lines.get(id)?.bunches ?? 0]))
  return due.lines.every(({ id }) => bunchesPacked(sales, id) <= (again.get(id) ?? 0))
}

export function writeStanding({ head, lines }: Written<StandingOrder>): Deed {
  const undo = [away('standing', head.id), ...lines.map(({ id }) => away('line', id))]
  const skips = head.skips.flatMap((day) => skipFacts(head.id, day, true))
  return { facts: [...standingFacts(head), ...skips, ...lines.flatMap(lineFacts)], undo }
}

/** Changes a standing order as a whole, which also changes what it says of its past; deliveries with something packed stay. */
export function changeStanding(sales: Sales, before: Written<StandingOrder>, after: Written<StandingOrder>): Deed {
  return together(keepPacked(sales, before.head), changing(standingFacts(before.head), standingFacts(after.head)), changeLines(before.lines, after.lines))
}

/** Ends a standing order with a day; later deliveries that were written, or of which something is packed, stay. */
export function endStanding(sales: Sales, standing: StandingOrder, last: Day): Deed {
  return together(keepPacked(sales, standing, addDays(last, 1)), endAfter(standing, last))
}

/** Ends a standing order of which nothing more is wanted: of its deliveries from a day on no more is ordered than is packed. */
export function dropStanding(sales: Sales, standing: StandingOrder, from: Day): Deed {
  return together(...packedDues(sales, standing.id, from).map((due) => noMoreThanPacked(sales, due)), endAfter(standing, addDays(from, -1)))
}

function endAfter(standing: StandingOrder, last: Day): Deed {
  return changing(standingFacts(standing), standingFacts({ ...standing, until: last }))
}

/**
 * Writes the deliveries of a standing order from a day on of which something is packed, as they are: they are worked out,
 * and once it says something else nobody would know what was packed for.
 */
function keepPacked(sales: Sales, { id }: StandingOrder, from: Day = '' as Day): Deed {
  return together(...packedDues(sales, id, from).map((due) => writeAgain(sales, asWritten(sales, due))))
}

/** Days of a standing order from one on that were written for themselves, which go on whatever becomes of it. */
export function writtenDays(sales: Sales, standing: StandingID, from: Day): Day[] {
  const days: Day[] = []
  for (const id of sales.orders.keys()) {
    const parts = id.startsWith(standing) ? onDay(id) : undefined
    if (parts?.template === standing && parts.day >= from) days.push(parts.day)
  }
  return days.sort()
}

/**
 * Changes a standing order from a day on: it ends the day before, and another begins, with ids that whoever changes it from
 * that day would give. Days that were skipped stay so, and those that were written for themselves or have something packed
 * are left out of the new one, or they would come twice.
 */
export function changeFrom(sales: Sales, before: StandingOrder, after: Written<StandingOrder>): Deed {
  const from = after.head.from
  const apart = [...writtenDays(sales, before.id, from), ...packedDues(sales, before.id, from).map(({ day }) => day)]
  const skips = [...new Set([...before.skips.filter((day) => day >= from), ...apart])].sort()
  const head = { ...after.head, id: successorID(before.id, from), skips }
  const lines = after.lines.map((line) => ({ ...line, id: isKnown(sales, line.id) ? successorID(line.id, from) : line.id, standing: head.id }))
  return together(endStanding(sales, before, addDays(from, -1)), writeSuccessor(sales, before, { head, lines }))
}

function isKnown(sales: Sales, line: LineID): boolean {
  return sales.lines.has(line) || sales.goneLines.has(line)
}

/**
 * All is said of it, what is empty and what was left out too: somebody elsewhere may have written something else under the
 * same ids, or it was written here and taken back.
 */
function writeSuccessor(sales: Sales, before: StandingOrder, { head, lines }: Written<StandingOrder>): Deed {
  const there = sales.standings.get(head.id)
  const linesThere = linesUnder(sales, head.id)
  const leftOut = linesUnder(sales, before.id).map(({ id }) => successorID(id, head.from)).filter((id) => !lines.some((line) => line.id === id))
  const said: Deed = there
    ? together(keepPacked(sales, there), changing(standingFacts(there), standingFacts(head)), changeLines(linesThere, lines), raiseLines(sales, lines))
    : { facts: [...standingFacts(head), back('standing', head.id), ...lines.flatMap(wholeLine)], undo: [away('standing', head.id), ...lines.map(({ id }) => away('line', id))] }
  const others = there ? [] : linesThere.map(({ id }) => id).filter((id) => !lines.some((line) => line.id === id))
  const notThere = [...leftOut.filter((id) => !sales.lines.has(id)), ...others].map((id) => away('line', id))
  return together(said, skipsAs(head, (there ?? sales.goneStandings.get(head.id))?.skips ?? []), { facts: notThere, undo: [] })
}

function linesUnder(sales: Sales, id: StandingID): Line[] {
  return [...sales.linesOf.get(id) ?? []].flatMap((line) => sales.lines.get(line) ?? [])
}

function wholeLine(line: Line): Fact[] {
  return [...lineFacts(line), ...bunchFact(line), back('line', line.id)]
}

function skipsAs({ id, skips }: StandingOrder, before: readonly Day[]): Deed {
  const more = skips.filter((day) => !before.includes(day)).map((day) => skipDay(id, day, true))
  return together(...more, ...before.filter((day) => !skips.includes(day)).map((day) => skipDay(id, day, false)))
}
