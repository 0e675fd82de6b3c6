// Of which lots the next bunch of a line is made: those that the plan meant for it, and then whatever may go there that
// the plan meant for nobody else. The oldest first.

import type { Lot } from '../crop/cooler'
import { lotCell, parseLotCell } from '../crop/lots'
import type { Grade } from '../crop/nouns'
import type { Channel, LineID } from '../crop/sale_nouns'
import type { DueLine, PackedSoFar } from './due_lines'
import type { PackingAnswer, PlannedLine } from './packing_answer'
import { meets, paysFor } from './wanted'

/** Stems by lot (`lotCell`). */
export type LotStems = ReadonlyMap<string, number>

/** What a plan still means: for each line, and of each lot for all lines together. */
export interface Meant {
  readonly of: ReadonlyMap<LineID, LotStems>
  readonly all: LotStems
}

/**
 * By the lines as they are due now with what is packed of them. A line that is due no longer, or is full, keeps nothing
 * from the others.
 */
export function meantFor(plan: PackingAnswer | undefined, lines: Iterable<DueLine>): Meant {
  const planned = new Map(plan?.lines.map((one) => [one.line, one]))
  const of = new Map<LineID, LotStems>()
  const all = new Map<string, number>()
  for (const due of lines) {
    const its = planned.get(due.line.id)
    if (!its) continue
    const stems = stillMeant(its, due)
    of.set(due.line.id, stems)
    add(all, stems)
  }
  return { of, all }
}

/** With nothing meant for a line any more. */
export function without(meant: Meant, line: LineID): Meant {
  const of = new Map(meant.of)
  const all = new Map(meant.all)
  for (const [lot, n] of of.get(line) ?? []) all.set(lot, (all.get(lot) ?? 0) - n)
  of.delete(line)
  return { of, all }
}

function stillMeant({ packed, more, had, from }: PlannedLine, { line, colours, packed: now }: DueLine): LotStems {
  const target = new Map<string, number>()
  for (const { lot, stems } of [...had, ...from]) target.set(lot, (target.get(lot) ?? 0) + stems)
  // Bunches that were packed of other lots are packed all the same.
  let open = Math.max(Math.min(packed + more, line.bunches) - now.bunches, 0) * line.stems
  const rest = new Map<string, number>()
  for (const { lot: cell } of from) {
    const left = Math.min((target.get(cell) ?? 0) - (now.stems.get(cell) ?? 0), open)
    const lot = parseLotCell(cell)
    if (left <= 0 || !lot || !meets(lot, line, colours)) continue
    rest.set(cell, left)
    open -= left
  }
  return rest
}

/** A line with what this device knows of floors: of its channel, and which grades the plan keeps back. */
export interface Filling {
  readonly due: DueLine
  readonly channel: Pick<Channel, 'floor'> | undefined
  readonly kept: readonly Grade[]
}

/** Whether stems of a lot are kept from a line, which pays less than their floor. */
export function keptBack({ id: { grade } }: Pick<Lot, 'id'>, { due: { line }, channel, kept }: Filling): boolean {
  return !paysFor(grade, line, channel) || (grade !== '' && kept.includes(grade))
}

/** Whether stems of a lot may go to a line. */
export function mayGo(lot: Lot, filling: Filling): boolean {
  const { line, colours } = filling.due
  return lot.left > 0 && lot.daysLeft >= 0 && meets(lot.id, line, colours) && !keptBack(lot, filling)
}

interface Drawing extends Filling {
  /** What lies in the cooler now, the oldest first. */
  readonly lots: readonly Lot[]
  readonly meant: Meant
  /** An owner wants it whatever the plan means for others; theirs go last. */
  readonly overruled?: boolean
}

/** The stems of one bunch; undefined where there are not enough. */
export function drawBunch(drawing: Drawing): Map<string, number> | undefined {
  return drawBunches({ ...drawing, plan: undefined }, 1)[0]
}

interface DrawingMany extends Drawing {
  readonly plan: PackingAnswer | undefined
}

/** The stems of so many bunches of a line, one after the other; fewer where stems give out. */
export function drawBunches(drawing: DrawingMany, most: number): Map<string, number>[] {
  const bunches: Map<string, number>[] = []
  const { due: { line }, plan, meant } = drawing
  // The order may be another since it was planned, and a lot be past its life: only what still may go there goes.
  const lots = drawing.lots.filter((lot) => mayGo(lot, drawing))
  const planned = meant.of.has(line.id) ? plan?.lines.find((one) => one.line === line.id) : undefined
  let due = drawing.due
  let own = meant.of.get(line.id)
  const taken = new Map<string, number>()
  while (bunches.length < most) {
    const bunch = drawn(drawing, lots, taken, own)
    if (!bunch) break
    bunches.push(bunch)
    add(taken, bunch)
    due = { ...due, packed: withBunch(due.packed, bunch) }
    own = planned && stillMeant(planned, due)
  }
  return bunches
}

/** Of lots that may all go there, once so many stems are taken: those first that the plan still means for the line. */
function drawn({ due: { line }, meant, overruled }: Drawing, lots: readonly Lot[], taken: LotStems, own: LotStems | undefined): Map<string, number> | undefined {
  let need = line.stems
  if (need <= 0) return undefined
  const bunch = new Map<string, number>()
  const take = (most: (cell: string, left: number) => number) => {
    for (const { id, left } of lots) {
      if (need === 0) return
      const cell = lotCell(id)
      const n = Math.min(need, most(cell, left - (taken.get(cell) ?? 0) - (bunch.get(cell) ?? 0)))
      if (n <= 0) continue
      bunch.set(cell, (bunch.get(cell) ?? 0) + n)
      need -= n
    }
  }
  const forOthers = (cell: string) => (meant.all.get(cell) ?? 0) - (meant.of.get(line.id)?.get(cell) ?? 0)
  if (own && own.size > 0) take((cell, left) => Math.min(left, own.get(cell) ?? 0))
  take((cell, left) => left - forOthers(cell))
  if (overruled) take((_, left) => left)
  return need > 0 ? undefined : bunch
}

function withBunch({ bunches, stems }: PackedSoFar, bunch: LotStems): PackedSoFar {
  const sum = new Map(stems)
  add(sum, bunch)
  return { bunches: bunches + 1, stems: sum }
}

function add(sum: Map<string, number>, stems: LotStems): void {
  for (const [lot, n] of stems) sum.set(lot, (sum.get(lot) ?? 0) + n)
}
