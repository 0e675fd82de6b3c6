// What is due to whom on which day. Mirrors internal/selling/due.go.

import { addDays, parseDay } from './day'
import type { Day } from './nouns'
import type { BuyerID, Line, LineID, Order, OrderID, Sales, StandingID, StandingOrder, Weekdays } from './sale_nouns'

/** One delivery to a buyer: an order that was written, or a standing order's on one of its days. */
export interface Due {
  readonly order: OrderID
  /** '' where it is no standing order's. */
  readonly standing: StandingID | ''
  readonly buyer: BuyerID
  readonly day: Day
  readonly note: string
  /** By their ids; a standing order's have the ids that they have on this day. */
  readonly lines: readonly Line[]
}

/** The deliveries from one day to another, both included, by day and buyer's name. */
export function dueBetween(sales: Sales, from: Day, to: Day): Due[] {
  const found: Due[] = []
  for (let day = from; day !== '' && day <= to; day = addDays(day, 1)) {
    for (const id of sales.ordersDue.get(day) ?? []) found.push(ofOrder(sales, sales.orders.get(id)!))
  }
  for (const standing of sales.standings.values()) {
    for (const day of daysOfStanding(standing, from, to)) {
      const due = occurrence(sales, standing, day)
      if (due) found.push(due)
    }
  }
  return found.sort((a, b) =>
    compare(a.day, b.day) || buyerName(sales, a.buyer).localeCompare(buyerName(sales, b.buyer)) || compare(a.order, b.order))
}

/** The delivery of an order's id, whether it was written or is a standing order's on a day. */
export function dueOf(sales: Sales, id: OrderID): Due | undefined {
  const order = sales.orders.get(id)
  if (order) return ofOrder(sales, order)
  const parts = onDay(id)
  const standing = parts && sales.standings.get(parts.template as StandingID)
  return standing && daysOfStanding(standing, parts.day, parts.day).length > 0 ? occurrence(sales, standing, parts.day) : undefined
}

/** Takes the id apart that a standing order, or a line of one, has on a day. */
export function onDay(id: string): { readonly template: string; readonly day: Day } | undefined {
  const at = id.lastIndexOf('@')
  const day = at < 0 ? undefined : parseDay(id.slice(at + 1))
  return day && { template: id.slice(0, at), day }
}

export function buyerName(sales: Sales, id: BuyerID): string {
  return (sales.buyers.get(id) ?? sales.goneBuyers.get(id))?.name ?? ''
}

function ofOrder(sales: Sales, order: Order): Due {
  return { order: order.id, standing: '', buyer: order.buyer, day: order.due, note: order.note, lines: linesOf(sales, order.id) }
}

function linesOf(sales: Sales, owner: OrderID | StandingID): Line[] {
  const ids = [...sales.linesOf.get(owner) ?? []].sort()
  return ids.flatMap((id) => sales.lines.get(id) ?? [])
}

/** A standing order's delivery on a day, unless an order was written in its place. */
function occurrence(sales: Sales, standing: StandingOrder, day: Day): Due | undefined {
  const order = `${standing.id}@${day}` as OrderID
  if (sales.orders.has(order)) return undefined
  const lines = linesOf(sales, standing.id).map((line) => ({ ...line, id: `${line.id}@${day}` as LineID, order, standing: '' as const }))
  return { order, standing: standing.id, buyer: standing.buyer, day, note: standing.note, lines }
}

/** The days of a standing order between two days, both included. */
export function daysOfStanding(s: StandingOrder, from: Day, to: Day): Day[] {
  const begin = from > s.from ? from : s.from
  const end = s.until !== '' && s.until < to ? s.until : to
  const days: Day[] = []
  for (let day = begin; parseDay(day) && day <= end; day = addDays(day, 1)) {
    if (holds(s.days, day) && weeksBetween(s.from, day) % Math.max(s.every, 1) === 0 && !s.skips.includes(day)) days.push(day)
  }
  return days
}

/** 1 for a Monday to 7 for a Sunday (ISO 8601). */
export function weekdayOf(day: Day): number {
  return (new Date(`${day}T00:00:00Z`).getUTCDay() + 6) % 7 + 1
}

export function holds(days: Weekdays, day: Day): boolean {
  return days.includes(String(weekdayOf(day)))
}

function weeksBetween(from: Day, to: Day): number {
  return Math.round((at(mondayOf(to)) - at(mondayOf(from))) / (7 * 86_400_000))
}

/** Of the day's week. */
export function mondayOf(day: Day): Day {
  return addDays(day, 1 - weekdayOf(day))
}

function at(day: Day): number {
  return Date.parse(`${day}T00:00:00Z`)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
