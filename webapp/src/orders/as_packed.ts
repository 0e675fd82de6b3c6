// Putting an order right by what was packed for it, where that is more than is ordered, or nobody orders it any more.

import { type Due, dueOf } from '../crop/due'
import { goneHead, knownLine, packedLinesOf } from '../crop/once_ordered'
import { bunchesPacked, packedFor } from '../crop/over_packed'
import type { Line, LineID, OrderID, Sales } from '../crop/sale_nouns'
import { type Deed, together } from './deeds'
import { asWritten, raiseLines, writeAgain, writeOrder } from './order_deeds'

/**
 * Says that as many bunches were ordered as are packed, of a line that was taken back too; undefined where this device
 * never heard of the line.
 */
export function orderAsPacked(sales: Sales, id: LineID): Deed | undefined {
  const line = knownLine(sales, id)
  if (!line || line.order === '') return undefined
  const due = dueOf(sales, line.order)
  return due ? inOrder(sales, due, asPacked(sales, line)) : orderBack(sales, line.order, packedFor(sales, id)[0]?.due)
}

/** The line in a delivery that there is: one of a standing order is written for its day, with all its lines. */
function inOrder(sales: Sales, due: Due, line: Line): Deed {
  const before = asWritten(sales, due)
  const after = { ...before, lines: [...before.lines.filter(({ id }) => id !== line.id), line] }
  return due.standing !== '' ? writeAgain(sales, after) : together(writeOrder(before, after), raiseLines(sales, after.lines))
}

/** An order that is there no longer, with what is packed of it and nothing else. */
function orderBack(sales: Sales, id: OrderID, packedDue: Due['day'] | undefined): Deed | undefined {
  const head = goneHead(sales, id, packedDue)
  return head && writeAgain(sales, { head, lines: packedLinesOf(sales, id).map((line) => asPacked(sales, line)) })
}

function asPacked(sales: Sales, line: Line): Line {
  return { ...line, bunches: bunchesPacked(sales, line.id) }
}
