// In which order the round goes: by the buyers that this device visited first the last time, new ones after them.

import { signal } from '@preact/signals'
import type { BuyerID } from '../crop/sale_nouns'
import type { Notebook } from '../sync/notebook'
import type { Delivery } from './day_papers'

/** Of all buyers that were ever moved on this device, from the first stop on. */
export type RoundOrder = readonly BuyerID[]

const kept = 'papers.round'

export const roundOrder = signal<RoundOrder>([])

export function readRoundOrder(notebook: Notebook): void {
  const told = notebook.kept<unknown>(kept)
  roundOrder.value = Array.isArray(told) ? told.filter((one): one is BuyerID => typeof one === 'string') : []
}

export function keepRoundOrder(notebook: Notebook, order: RoundOrder): Promise<void> {
  roundOrder.value = order
  return notebook.keep(kept, order)
}

/** Deliveries as the round goes. Those of one buyer are side by side, and buyers without a place come last, as they came. */
export function inRound(deliveries: readonly Delivery[], order: RoundOrder): Delivery[] {
  const places = new Map([...new Set([...order, ...buyersOf(deliveries)])].map((buyer, i) => [buyer, i]))
  return [...deliveries].sort((a, b) => places.get(a.buyer)! - places.get(b.buyer)!)
}

/** The order once a buyer goes one stop earlier (-1) or later (1) on a day; others keep their places between them. */
export function movedStop(deliveries: readonly Delivery[], order: RoundOrder, buyer: BuyerID, by: -1 | 1): RoundOrder {
  const today = buyersOf(inRound(deliveries, order))
  const at = today.indexOf(buyer)
  const other = today[at + by]
  if (at < 0 || other === undefined) return order
  today[at] = other
  today[at + by] = buyer
  const left = [...today]
  return [...order.map((one) => (today.includes(one) ? left.shift()! : one)), ...left]
}

function buyersOf(deliveries: readonly Delivery[]): BuyerID[] {
  return [...new Set(deliveries.map(({ buyer }) => buyer))]
}
