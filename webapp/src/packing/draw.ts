// Of which lots the next bunch of a line is made: those that the plan meant for it, and then whatever may go there that
// the plan meant for nobody else. The oldest first.

import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { Channel, LineID } from '../crop/sale_nouns'
import type { DueLine, PackedSoFar } from './due_lines'
import type { PackingAnswer } from './packing_answer'
import { meets, paysFor } from './wanted'

/** Stems by lot (`lotCell`). */
export type LotStems = ReadonlyMap<string, number>

/** What the plan still means for each line, by what is packed now. */
export function meantFor(plan: PackingAnswer | undefined, packed: (line: LineID) => PackedSoFar): Map<LineID, LotStems> {
  const meant = new Map<LineID, LotStems>()
  for (const { line, had, from } of plan?.lines ?? []) {
    const target = new Map<string, number>()
    for (const { lot, stems } of [...had, ...from]) target.set(lot, (target.get(lot) ?? 0) + stems)
    const now = packed(line).stems
    const rest = new Map<string, number>()
    for (const { lot } of from) {
      const left = (target.get(lot) ?? 0) - (now.get(lot) ?? 0)
      if (left > 0) rest.set(lot, left)
    }
    meant.set(line, rest)
  }
  return meant
}

/** All that the plan means for other lines. */
function meantForOthers(meant: ReadonlyMap<LineID, LotStems>, line: LineID): Map<string, number> {
  const others = new Map<string, number>()
  for (const [id, stems] of meant) {
    if (id !== line) for (const [lot, n] of stems) others.set(lot, (others.get(lot) ?? 0) + n)
  }
  return others
}

/** Whether stems of a lot may go to a line. */
export function mayGo(lot: Lot, { line, colours }: DueLine, channel: Pick<Channel, 'floor'> | undefined): boolean {
  return lot.left > 0 && lot.daysLeft >= 0 && meets(lot.id, line, colours) && paysFor(lot.id.grade, line, channel)
}

interface Drawing {
  readonly due: DueLine
  readonly channel: Pick<Channel, 'floor'> | undefined
  /** What lies in the cooler now, the oldest first. */
  readonly lots: readonly Lot[]
  readonly meant: ReadonlyMap<LineID, LotStems>
}

/** The stems of one bunch; undefined where there are not enough. */
export function drawBunch({ due, channel, lots, meant }: Drawing): Map<string, number> | undefined {
  let need = due.line.stems
  if (need <= 0) return undefined
  const bunch = new Map<string, number>()
  const take = (lot: string, most: number) => {
    const n = Math.min(need, most)
    if (n <= 0) return
    bunch.set(lot, (bunch.get(lot) ?? 0) + n)
    need -= n
  }
  const own = meant.get(due.line.id)
  const others = meantForOthers(meant, due.line.id)
  // The order may be another since it was planned, and a lot be past its life: only what still may go there goes.
  for (const lot of lots) {
    if (mayGo(lot, due, channel)) take(lotCell(lot.id), Math.min(lot.left, own?.get(lotCell(lot.id)) ?? 0))
  }
  for (const lot of lots) {
    const cell = lotCell(lot.id)
    if (mayGo(lot, due, channel)) take(cell, lot.left - (bunch.get(cell) ?? 0) - (others.get(cell) ?? 0))
  }
  return need > 0 ? undefined : bunch
}
