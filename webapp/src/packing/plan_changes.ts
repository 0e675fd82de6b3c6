// What became of the day since it was planned: told by comparing what the plan took for given with what stands now, so
// that it is the same on every device and after the app was closed.

import { channelKeeps } from '../crop/commission'
import { lotCell } from '../crop/lots'
import { channelOf } from '../crop/price_of'
import type { BuyerID, Sales } from '../crop/sale_nouns'
import type { DayNow } from './day_now'
import { type DueLine, packedOf, type PackedSoFar } from './due_lines'
import type { AskedThen, PackingAnswer, PlannedLine } from './packing_answer'
import { pathOf, type Wishes, wishesOf } from './plans'

export interface PlanChanges {
  /** Whose lines ask for something else, or are new. */
  readonly orders: readonly BuyerID[]
  /** Lines that are due no longer. */
  readonly gone: number
  /** Stems that are there and were not, and that were and are not, beside those that were packed. */
  readonly more: number
  readonly fewer: number
  /** Bunches that were packed otherwise than it meant, or taken back. */
  readonly otherwise: number
  /** Something else is pinned or left out. */
  readonly wishes: boolean
}

interface AsItStands {
  readonly sales: Sales
  readonly now: DayNow
  readonly wishes: Wishes
}

export function changesSince(plan: PackingAnswer, { sales, now, wishes }: AsItStands): PlanChanges {
  const planned = new Map(plan.lines.map((one) => [one.line, one]))
  const due = new Set(now.lines.map(({ line }) => line.id))
  const orders = new Set<BuyerID>()
  let otherwise = 0
  for (const one of now.lines) {
    const of = planned.get(one.line.id)
    if (!of || asksElse(of.asked, one) || paysElse(plan, one, sales)) orders.add(one.buyer)
    if (of) otherwise += packedOtherwise(of, one.packed)
  }
  return {
    orders: [...orders], gone: plan.lines.filter(({ line }) => !due.has(line)).length, otherwise, ...stemsMoved(plan, sales, now),
    wishes: pathOf(plan.day, wishes) !== pathOf(plan.day, wishesOf(plan)),
  }
}

/** The same text for the same changes, '' for none. */
export function changesKey({ orders, gone, more, fewer, otherwise, wishes }: PlanChanges): string {
  const none = orders.length === 0 && !wishes && gone + more + fewer + otherwise === 0
  return none ? '' : JSON.stringify([orders, gone, more, fewer, otherwise, wishes])
}

function asksElse(then: AskedThen, { line, colours }: DueLine): boolean {
  return then.bunches !== line.bunches || then.stems !== line.stems || then.grade !== line.grade || then.length !== line.length
    || then.whole !== line.whole || [...then.colours].sort().join() !== [...colours].sort().join()
}

/** Only an owner's device knows what a line pays, and only an owner's plan what it paid. */
function paysElse({ money }: PackingAnswer, { line, buyer }: DueLine, sales: Sales): boolean {
  const then = money?.net[line.id]
  return then !== undefined && then !== line.price - channelKeeps(line.price, channelOf(sales, buyer)?.commission ?? 0)
}

function packedOtherwise({ packed, more, had, from, asked }: PlannedLine, now: PackedSoFar): number {
  const target = new Map<string, number>()
  for (const { lot, stems } of [...had, ...from]) target.set(lot, (target.get(lot) ?? 0) + stems)
  let beside = 0
  for (const [lot, n] of now.stems) beside += Math.max(n - (target.get(lot) ?? 0), 0)
  const over = Math.max(now.bunches - packed - more, packed - now.bunches, 0)
  return Math.max(over, asked.stems > 0 ? Math.ceil(beside / asked.stems) : 0)
}

/** Of each lot the plan knew what was left; what was packed since for the lines of the day is taken off that. */
function stemsMoved(plan: PackingAnswer, sales: Sales, { lines, lots }: DayNow): { more: number; fewer: number } {
  const expected = new Map<string, number>()
  const add = (lot: string, stems: number) => expected.set(lot, (expected.get(lot) ?? 0) + stems)
  for (const { lot, stems } of [...plan.unsold, ...plan.lines.flatMap(({ from }) => from)]) add(lot, stems)
  for (const { lot, stems } of plan.lines.flatMap(({ had }) => had)) add(lot, stems)
  for (const line of new Set([...plan.lines.map((one) => one.line), ...lines.map((one) => one.line.id)])) {
    for (const [lot, stems] of packedOf(sales, line).stems) add(lot, -stems)
  }
  const there = new Map(lots.map(({ id, left }) => [lotCell(id), left]))
  let [more, fewer] = [0, 0]
  for (const lot of new Set([...expected.keys(), ...there.keys()])) {
    const by = Math.max(there.get(lot) ?? 0, 0) - Math.max(expected.get(lot) ?? 0, 0)
    if (by > 0) more += by
    else fewer -= by
  }
  return { more, fewer }
}
