// What of a day's deliveries stands on invoices, buyer by buyer.

import { billedLines, overBilledLine, stillOver } from '../crop/billed'
import type { Farm } from '../crop/nouns'
import { linePrice } from '../crop/price_of'
import type { BuyerID, Cents, Invoice, InvoiceID, LineID } from '../crop/sale_nouns'
import type { Delivery, PackedLine } from './day_papers'
import { lineWords } from './paper_words'

/** What of a day a buyer has been billed for. */
export interface DayBill {
  readonly buyer: BuyerID
  readonly deliveries: readonly Delivery[]
  readonly invoices: readonly InvoiceID[]
  /** Bunches that stand on no invoice. */
  readonly open: number
  /** Bunches that stand on invoices and were taken back since. */
  readonly over: number
  readonly unpriced: readonly string[]
  /** What the open bunches come to. */
  readonly goods: Cents
}

export function billsOf(farm: Farm, deliveries: readonly Delivery[]): DayBill[] {
  const billed = billedLines(farm.sales)
  const buyers = [...new Set(deliveries.map(({ buyer }) => buyer))]
  return buyers.map((buyer) => {
    const its = deliveries.filter((one) => one.buyer === buyer && one.order !== '')
    const lines = its.flatMap((one) => one.lines)
    const openOf = ({ id, bunches }: PackedLine) => bunches - (billed.get(id)?.bunches ?? 0)
    const open = lines.filter((line) => openOf(line) > 0)
    return {
      buyer, deliveries: its, invoices: [...new Set(lines.flatMap((line) => [...billed.get(line.id)?.on.keys() ?? []]))],
      open: open.reduce((sum, line) => sum + openOf(line), 0),
      over: lines.reduce((sum, { id }) => sum + takenBack(farm, id), 0),
      unpriced: its.flatMap(({ day, lines: of }) => of.flatMap((one) => (open.includes(one) && one.line && linePrice(farm.sales, buyer, one.line, day) <= 0 ? [lineWords(farm, one.line)] : []))),
      goods: its.flatMap(({ day, lines: of }) => of.map((one) => (open.includes(one) && one.line ? openOf(one) * linePrice(farm.sales, buyer, one.line, day) : 0)))
        .reduce((sum, cents) => sum + cents, 0) as Cents,
    }
  })
}

function takenBack(farm: Farm, line: LineID): number {
  const over = overBilledLine(farm.sales, line)
  return over ? stillOver(over) : 0
}

/** The invoices of a day, each once, as far as they are on this device. */
export function invoicesIn(farm: Farm, bills: readonly DayBill[]): Invoice[] {
  return [...new Set(bills.flatMap(({ invoices }) => invoices))].flatMap((id) => farm.sales.invoices.get(id) ?? [])
}
