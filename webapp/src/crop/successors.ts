// Standing orders that took the place of another from a day on. Two owners who change one without seeing each other name
// what takes its place alike, so that for one day they wrote the same thing; for two days both stand, and need a look.

import { parseDay } from './day'
import type { Day } from './nouns'
import type { LineID, Sales, StandingID, StandingOrder } from './sale_nouns'

const mark = '~'

/** The id of what takes the place of a standing order, or of one of its lines, from a day on. */
export function successorID<T extends StandingID | LineID>(id: T, from: Day): T {
  return `${firstOf(id)}${mark}${from}` as T
}

/** The id of the first of those that took each other's place. */
function firstOf(id: string): string {
  const at = id.lastIndexOf(mark)
  return at >= 0 && parseDay(id.slice(at + 1)) ? id.slice(0, at) : id
}

/** Two standing orders of which one took the other's place, and both come on the same days. */
export interface Twice {
  readonly earlier: StandingOrder
  readonly later: StandingOrder
}

export function comingTwice(sales: Sales): Twice[] {
  return [...families(sales)].sort().flatMap(([, members]) => {
    const inTurn = members.sort((a, b) => compare(a.from, b.from) || compare(a.id, b.id))
    return inTurn.flatMap((earlier, i) => {
      const later = inTurn.slice(i + 1).find((one) => meet(earlier, one))
      return later ? [{ earlier, later }] : []
    })
  })
}

function families(sales: Sales): Map<string, StandingOrder[]> {
  const found = new Map<string, StandingOrder[]>()
  for (const standing of sales.standings.values()) {
    const first = firstOf(standing.id)
    const members = found.get(first)
    if (members) members.push(standing)
    else found.set(first, [standing])
  }
  return found
}

function meet(earlier: StandingOrder, later: StandingOrder): boolean {
  const isOver = ({ from, until }: StandingOrder) => until !== '' && until < from
  return !isOver(earlier) && !isOver(later) && (earlier.until === '' || earlier.until >= later.from)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
