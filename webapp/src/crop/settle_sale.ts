// What settles what needs a look of the sales, as facts.

import { addDays } from './day'
import { dueOf, onDay } from './due'
import { withdrawnFact } from './facts'
import type { Day } from './nouns'
import { bunchesPacked } from './over_packed'
import { lineFacts, orderFacts, standingFacts } from './sale_facts'
import type { BuyerID, LineID, OrderID, Sales, StandingID } from './sale_nouns'
import type { Fact } from '../log/change'

/** That as many bunches were ordered as were packed; undefined where nobody orders the line any more. */
export function orderAsPacked(sales: Sales, id: LineID): Fact[] | undefined {
  const packed = bunchesPacked(sales, id)
  if (sales.lines.has(id)) return [{ scope: 'shed', op: 'set', type: 'line', id, field: 'bunches', value: packed }]
  const parts = onDay(id)
  const template = parts && sales.lines.get(parts.template as LineID)
  const due = template && template.standing !== '' ? dueOf(sales, `${template.standing}@${parts.day}` as OrderID) : undefined
  if (!due || due.standing === '' || !due.lines.some((line) => line.id === id)) return undefined
  // One delivery of a standing order: an order is written in its place, with all its lines.
  return [
    ...orderFacts({ id: due.order, buyer: due.buyer, due: due.day, taken: '', note: due.note }),
    ...due.lines.flatMap((line) => lineFacts(line.id === id ? { ...line, bunches: packed } : line)),
  ]
}

export function bringBuyerBack(buyer: BuyerID): Fact[] {
  return [withdrawnFact('buyer', buyer, false, 'shed')]
}

/** Takes back what a deleted buyer is still due: orders go, standing orders end with the day before. */
export function dropDeliveries(sales: Sales, of: { readonly orders: readonly OrderID[]; readonly standings: readonly StandingID[] }, today: Day): Fact[] {
  return [
    ...of.orders.map((id) => withdrawnFact('order', id, true, 'shed')),
    ...of.standings.flatMap((id) => {
      const standing = sales.standings.get(id)
      if (!standing) return []
      const { skips: _, ...told } = standing
      return standingFacts({ ...told, until: addDays(today, -1) })
    }),
  ]
}
