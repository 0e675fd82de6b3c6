// What an answer to an ask writes, each as one operation with what takes it back: the ask with its answer, and where it is a
// promise, the line of an order.

import type { Ask } from '../crop/ahead_nouns'
import { askFacts, askWithdrawn } from '../crop/ahead_facts'
import { type Deed, together } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import type { Day, Farm } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import { priceOf } from '../crop/price_of'
import { lineFacts, orderFacts } from '../crop/sale_facts'
import { type Bunch, type BunchID, type BuyerID, type Cents, type Line, mostBunches, type Order, type OrderID } from '../crop/sale_nouns'
import { lineOfAsk } from '../forecast/clashes'

type Selling = Pick<Farm, 'sales' | 'ahead'>

/** Keeps an ask as it stands, new or answered otherwise than before. */
export function keepAsk({ ahead }: Selling, ask: Ask): Deed {
  const before = ahead.asks.get(ask.id)
  const back = ahead.goneAsks.has(ask.id) ? [askWithdrawn(ask.id, false)] : []
  return { facts: [...askFacts(ask.id, ask), ...back], undo: before ? askFacts(ask.id, before) : [askWithdrawn(ask.id, true)] }
}

/** Whether a reply says anything that is not kept: of an ask that is answered it does not, and a chance alone is no news. */
export function isNews(kept: Ask | undefined, ask: Ask): boolean {
  const said = ({ stems, offered, from, due, grade, length, buyer, colours }: Ask) => [stems, offered, from, due, grade, length, buyer, ...[...colours].sort()].join('|')
  return !kept || (kept.answer === '' && said(kept) !== said(ask))
}

export interface PromisedStems {
  readonly ask: Ask
  readonly buyer: BuyerID
  readonly day: Day
  /** The day on which it is promised: the ask may have come long before, and clashes go by who was promised first. */
  readonly taken: Day
  readonly bunch: BunchID | ''
  readonly stems: number
  /** A fresh id, should no order be there to take the line. */
  readonly order: OrderID
}

/** Promises stems: the line goes into the buyer's order of that day, or begins one. What the price list says that day is agreed. */
export function promiseStems(farm: Selling, promise: PromisedStems): Deed {
  const { sales } = farm
  const { ask, buyer, day } = promise
  const there = [...sales.ordersDue.get(day) ?? []].map((id) => sales.orders.get(id)).find((order) => order?.buyer === buyer)
  const order: Order = there ?? { id: promise.order, buyer, due: day, taken: promise.taken, note: '' }
  const line = lineFor(farm, promise, order.id)
  const offered = line.bunches * line.stems
  const kept = keepAsk(farm, { ...ask, buyer, answer: 'promised', offered, order: order.id, price: Math.round(line.price / line.stems) as Cents })
  const again = sales.goneLines.has(line.id) ? [withdrawnFact('line', line.id, false, 'shed')] : []
  return {
    facts: [...(there ? [] : orderFacts(order)), ...lineFacts(line), ...again, ...kept.facts],
    undo: [withdrawnFact('line', line.id, true, 'shed'), ...(there ? [] : [withdrawnFact('order', order.id, true, 'shed')]), ...kept.undo],
  }
}

function lineFor({ sales }: Selling, { ask, buyer, day, bunch, stems }: PromisedStems, order: OrderID): Line {
  const { colours, grade, length } = ask
  return {
    id: lineOfAsk(ask), order, standing: '', bunch, ...inBunches(stems, sales.bunches.get(bunch as BunchID)), grade, length, colours,
    whole: false, exact: false, price: priceOf(sales, buyer, bunch, colours, day).cents,
  }
}

/**
 * So many stems as the bunches of a rule, rounded down; without a rule as bunches of ten or five where that comes out even,
 * else stem by stem. More than a line holds stem by stem are rounded down to fives.
 */
export function inBunches(stems: number, rule: Pick<Bunch, 'stems'> | undefined): { readonly bunches: number; readonly stems: number } {
  const each = rule?.stems ?? [10, 5].find((size) => stems % size === 0) ?? (stems > mostBunches ? 5 : 1)
  return { bunches: Math.floor(stems / each), stems: each }
}

/** Stems that are asked for as whole bunches of so many: rounded down, but one bunch for who asks for less than one. */
export function inWholeBunches(stems: number, each: number): number {
  return stems === 0 ? 0 : Math.max(each, stems - (stems % each))
}

/** What keeps a promise's line from being taken away: something is packed for it. */
export function isPacked({ sales }: Selling, ask: Ask): boolean {
  return bunchesPacked(sales, lineOfAsk(ask)) > 0
}

/** Answers a kept ask otherwise. A promise that is taken back takes its line along, and the order too where nothing else is in it. */
export function answerOtherwise(farm: Selling, ask: Ask, answer: Exclude<Ask['answer'], 'promised'>): Deed {
  const fields = { answer, offered: 0, chance: 0, order: '' } as const
  return together(lineAway(farm, ask), {
    facts: askFacts(ask.id, fields), undo: askFacts(ask.id, { answer: ask.answer, offered: ask.offered, chance: ask.chance, order: ask.order }),
  })
}

/** Takes an ask away that was kept by mistake, with what was promised for it. */
export function withdrawAsk(farm: Selling, ask: Ask): Deed {
  return together(lineAway(farm, ask), { facts: [askWithdrawn(ask.id, true)], undo: [askWithdrawn(ask.id, false)] })
}

function lineAway({ sales }: Selling, ask: Ask): Deed {
  const line = sales.lines.get(lineOfAsk(ask))
  if (ask.answer !== 'promised' || !line || line.order === '') return { facts: [], undo: [] }
  const last = (sales.linesOf.get(line.order)?.size ?? 0) <= 1
  const all = [['line', line.id] as const, ...last ? [['order', line.order] as const] : []]
  return { facts: all.map(([type, id]) => withdrawnFact(type, id, true, 'shed')), undo: all.map(([type, id]) => withdrawnFact(type, id, false, 'shed')) }
}
