// What was packed for the deliveries of a day: what all papers of the day are made of.

import { dueBetween } from '../crop/due'
import { parseLotCell } from '../crop/lots'
import type { Day, Farm } from '../crop/nouns'
import type { BuyerID, Line, LineID, LotID, OrderID, Packed, Sales } from '../crop/sale_nouns'
import { compareText } from '../log/order'

/** What was packed for one line, by whomever. */
export interface PackedLine {
  readonly id: LineID
  /** Undefined where the line is ordered no longer: what was packed for it is still there. */
  readonly line: Line | undefined
  readonly bunches: number
  /** The oldest first. */
  readonly lots: readonly LotStems[]
}

export interface LotStems {
  readonly cell: string
  readonly lot: LotID
  readonly stems: number
}

/** One stop of the day. */
export interface Delivery {
  /** '' for what was packed for lines that no delivery of the day has. */
  readonly order: OrderID | ''
  readonly buyer: BuyerID
  readonly day: Day
  readonly note: string
  /** Those of which something was packed or is due, in the order's order. */
  readonly lines: readonly PackedLine[]
  readonly bunches: number
}

/** The deliveries of a day by buyer's name, also those for which nothing was packed yet. */
export function deliveriesOf(farm: Farm, day: Day): Delivery[] {
  const { sales } = farm
  const left = packedByLine(sales, day)
  const found = dueBetween(sales, day, day).map((due): Delivery => {
    // All that was packed for a line goes with it, also where the order was moved to this day since.
    const lines = due.lines.map((line) => packedLine(line.id, line, packedFor(sales, line.id)))
    for (const { id } of lines) left.delete(id)
    return { order: due.order, buyer: due.buyer, day, note: due.note, lines, bunches: bunchesIn(lines) }
  })
  return [...found, ...beside(left, day)]
}

/** What was packed for the day though no delivery of it has the line, by buyer. */
function beside(left: ReadonlyMap<LineID, readonly Packed[]>, day: Day): Delivery[] {
  const buyers = new Map<BuyerID, PackedLine[]>()
  for (const [id, packed] of left) {
    const line = packedLine(id, undefined, packed)
    const buyer = packed[0]!.buyer
    if (line.bunches > 0 || line.lots.length > 0) buyers.set(buyer, [...buyers.get(buyer) ?? [], line])
  }
  return [...buyers].map(([buyer, lines]) => ({ order: '' as const, buyer, day, note: '', lines, bunches: bunchesIn(lines) }))
}

function packedFor(sales: Sales, line: LineID): Packed[] {
  return [...sales.packedOf.get(line) ?? []].flatMap((id) => sales.packed.get(id) ?? [])
}

/** What was packed for the day by line, without that of orders that were moved to another. */
function packedByLine(sales: Sales, day: Day): Map<LineID, Packed[]> {
  const found = new Map<LineID, Packed[]>()
  for (const id of sales.packedDue.get(day) ?? []) {
    const packed = sales.packed.get(id)
    const order = packed && sales.orders.get(sales.lines.get(packed.line)?.order as OrderID)
    if (packed && (!order || order.due === day)) found.set(packed.line, [...found.get(packed.line) ?? [], packed])
  }
  return found
}

function packedLine(id: LineID, line: Line | undefined, packed: readonly Packed[]): PackedLine {
  const stems = new Map<string, number>()
  for (const one of packed) for (const [cell, n] of one.stems) stems.set(cell, (stems.get(cell) ?? 0) + n)
  const lots = [...stems].flatMap(([cell, n]): LotStems[] => {
    const lot = parseLotCell(cell)
    return lot && n > 0 ? [{ cell, lot, stems: n }] : []
  })
  return {
    id, line, bunches: packed.reduce((sum, one) => sum + one.bunches, 0),
    lots: lots.sort((a, b) => compareText(a.lot.cut, b.lot.cut) || compareText(a.cell, b.cell)),
  }
}

function bunchesIn(lines: readonly PackedLine[]): number {
  return lines.reduce((sum, line) => sum + line.bunches, 0)
}

/** One bunch's label. */
export interface Slip {
  readonly buyer: BuyerID
  /** On which it is brought. */
  readonly day: Day
  readonly line: PackedLine
  /** Which of the line's bunches, from 1. */
  readonly n: number
}

/** A label for each bunch. Which lots a single bunch is of nobody has recorded: each names all of its line's. */
export function slipsOf(deliveries: readonly Delivery[]): Slip[] {
  return deliveries.flatMap(({ buyer, day, lines }) =>
    lines.flatMap((line) => Array.from({ length: line.bunches }, (_, i): Slip => ({ buyer, day, line, n: i + 1 }))))
}
