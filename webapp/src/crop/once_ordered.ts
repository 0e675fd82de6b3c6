// Lines as they were last ordered, also where their order was withdrawn or their standing order ended: what was packed for
// them is still there.

import { onDay } from './due'
import { bunchesPacked, lineOf } from './over_packed'
import type { Line, LineID, Order, OrderID, Sales, StandingID, StandingOrder } from './sale_nouns'

/** A line as it is ordered, or else as it was; undefined where this device never heard of it. */
export function knownLine(sales: Sales, id: LineID): Line | undefined {
  const ordered = lineOf(sales, id)
  if (ordered) return ordered
  const written = sales.lines.get(id) ?? sales.goneLines.get(id)
  if (written) return written
  const parts = onDay(id)
  const template = parts && (sales.lines.get(parts.template as LineID) ?? sales.goneLines.get(parts.template as LineID))
  if (!template || template.standing === '') return undefined
  return { ...template, id, order: `${template.standing}@${parts.day}` as OrderID, standing: '' }
}

/** The order that a line stands in, or stood in before it or its order was withdrawn: what was paid for it stays paid. */
export function onceOrderOf({ lines, goneLines }: Pick<Sales, 'lines' | 'goneLines'>, id: LineID): OrderID | undefined {
  const once = (one: LineID) => lines.get(one) ?? goneLines.get(one)
  const written = once(id)
  if (written) return written.order || undefined
  const parts = onDay(id)
  const standing = parts && once(parts.template as LineID)?.standing
  return standing ? (`${standing}@${parts.day}` as OrderID) : undefined
}

/** The head of an order that is there no longer, for lines of which something was packed for a day. */
export function goneHead(sales: Sales, id: OrderID, due: Order['due'] | undefined): Order | undefined {
  const written = sales.orders.get(id) ?? sales.goneOrders.get(id)
  const parts = onDay(id)
  const standing = parts && standingOf(sales, parts.template as StandingID)
  // One that was written for a day and gave way to its standing order again says nothing of what was packed since.
  if (!standing || written?.due === due) return written
  return { id, buyer: standing.buyer, due: parts.day, taken: '', note: standing.note }
}

/** All lines that an order is known to have had of which something is packed. */
export function packedLinesOf(sales: Sales, order: OrderID): Line[] {
  const own = [...sales.linesOf.get(order) ?? [], ...[...sales.goneLines.values()].flatMap((line) => (line.order === order ? [line.id] : []))]
  const parts = onDay(order)
  const templates = parts ? templatesOf(sales, parts.template as StandingID).map((id) => `${id}@${parts.day}` as LineID) : []
  return [...new Set([...own, ...templates])].sort().flatMap((id) => {
    const line = bunchesPacked(sales, id) > 0 ? knownLine(sales, id) : undefined
    return line ? [line] : []
  })
}

function standingOf(sales: Sales, id: StandingID): StandingOrder | undefined {
  return sales.standings.get(id) ?? sales.goneStandings.get(id)
}

function templatesOf(sales: Sales, standing: StandingID): LineID[] {
  const gone = [...sales.goneLines.values()].filter((line) => line.standing === standing)
  return [...sales.linesOf.get(standing) ?? [], ...gone.map(({ id }) => id)]
}
