// Putting an order right by what was packed for it, where that is more than is ordered, or nobody orders it any more.

import { changing, type Deed, together } from '../crop/deed'
import { type Due, dueOf } from '../crop/due'
import { goneHead, knownLine, packedLinesOf } from '../crop/once_ordered'
import { bunchesPacked, lineOf, packedFor, stemsPacked } from '../crop/over_packed'
import { lineFacts } from '../crop/sale_facts'
import { type Line, type LineID, mostBunchStems, type OrderID, type Sales } from '../crop/sale_nouns'
import { asWritten, raiseLines, writeAgain, writeOrder } from './order_deeds'

/**
 * Says that as many bunches were ordered as are packed, of a line that was taken back too; undefined where this device
 * never heard of the line.
 */
export function orderAsPacked(sales: Sales, id: LineID): Deed | undefined {
  const line = knownLine(sales, id)
  if (!line || line.order === '') return undefined
  const due = dueOf(sales, line.order)
  return due ? inOrder(sales, due, line) : orderBack(sales, line.order, packedFor(sales, id)[0]?.due)
}

/** Says that a bunch of a line has as many stems as were packed; undefined where those are no whole number a bunch. */
export function stemsAsPacked(sales: Sales, id: LineID): Deed | undefined {
  const line = lineOf(sales, id)
  const due = line && line.order !== '' ? dueOf(sales, line.order) : undefined
  const stems = stemsPacked(sales, id) / bunchesPacked(sales, id)
  if (!due || !Number.isInteger(stems) || stems < 1 || stems > mostBunchStems) return undefined
  const before = asWritten(sales, due)
  const after = { ...before, lines: before.lines.map((one) => (one.id === id ? { ...one, stems } : one)) }
  return due.standing !== '' ? writeAgain(sales, after) : writeOrder(before, after)
}

/** The line in a delivery that there is: one of a standing order is written for its day, with all its lines. */
function inOrder(sales: Sales, due: Due, line: Line): Deed {
  const before = asWritten(sales, due)
  const after = { ...before, lines: [...before.lines.filter(({ id }) => id !== line.id), asPacked(sales, line)] }
  const deed = due.standing !== '' ? writeAgain(sales, after) : together(writeOrder(before, after), raiseLines(sales, after.lines))
  return together(deed, saidBefore(sales, [line]))
}

/** An order that is there no longer, with what is packed of it and nothing else. */
function orderBack(sales: Sales, id: OrderID, packedDue: Due['day'] | undefined): Deed | undefined {
  const head = goneHead(sales, id, packedDue)
  const lines = packedLinesOf(sales, id)
  return head && together(writeAgain(sales, { head, lines: lines.map((line) => asPacked(sales, line)) }), saidBefore(sales, lines))
}

/** What lines say that nobody orders is said again once they are taken back, so that they are told as before. */
function saidBefore(sales: Sales, lines: readonly Line[]): Deed {
  return { facts: [], undo: lines.flatMap((line) => changing(lineFacts(line), lineFacts(asPacked(sales, line))).undo) }
}

function asPacked(sales: Sales, line: Line): Line {
  return { ...line, bunches: bunchesPacked(sales, line.id) }
}
