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
    for (const [lot, n] of stems) all.set(lot, (all.get(lot) ?? 0) + n)
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
  return drawn(drawing, drawing.lots.filter((lot) => mayGo(lot, drawing)), drawing.meant.of.get(drawing.due.line.id))
}

/** Of lots that may all go there, those first of which the plan still means so many stems for the line. */
function drawn({ due: { line }, meant, overruled }: Drawing, lots: readonly Lot[], own: LotStems | undefined): Map<string, number> | undefined {
  let need = line.stems
  if (need <= 0) return undefined
  const bunch = new Map<string, number>()
  const take = (lot: string, most: number) => {
    const n = Math.min(need, most)
    if (n <= 0) return
    bunch.set(lot, (bunch.get(lot) ?? 0) + n)
    need -= n
  }
  const taken = (lot: string) => bunch.get(lot) ?? 0
  const forOthers = (lot: string) => (meant.all.get(lot) ?? 0) - (meant.of.get(line.id)?.get(lot) ?? 0)
  // The order may be another since it was planned, and a lot be past its life: only what still may go there goes.
  const there = lots.map(({ id, left }) => [lotCell(id), left] as const)
  for (const [lot, left] of there) take(lot, Math.min(left, own?.get(lot) ?? 0))
  for (const [lot, left] of there) take(lot, left - taken(lot) - forOthers(lot))
  if (overruled) for (const [lot, left] of there) take(lot, left - taken(lot))
  return need > 0 ? undefined : bunch
}

interface DrawingMany extends Drawing {
  readonly plan: PackingAnswer | undefined
}

/** The stems of so many bunches of a line, one after the other; fewer where stems give out. */
export function drawBunches(drawing: DrawingMany, most: number): Map<string, number>[] {
  const bunches: Map<string, number>[] = []
  const { plan, meant } = drawing
  let { due } = drawing
  let lots = drawing.lots.filter((lot) => mayGo(lot, drawing))
  let own = meant.of.get(due.line.id)
  const planned = own && plan?.lines.find(({ line }) => line === due.line.id)
  while (bunches.length < most) {
    const bunch = drawn(drawing, lots, own)
    if (!bunch) break
    bunches.push(bunch)
    due = { ...due, packed: withBunch(due.packed, bunch) }
    own = planned && stillMeant(planned, due)
    lots = lots.map((lot) => ({ ...lot, left: lot.left - (bunch.get(lotCell(lot.id)) ?? 0) })).filter(({ left }) => left > 0)
  }
  return bunches
}

function withBunch({ bunches, stems }: PackedSoFar, bunch: LotStems): PackedSoFar {
  const sum = new Map(stems)
  for (const [lot, n] of bunch) sum.set(lot, (sum.get(lot) ?? 0) + n)
  return { bunches: bunches + 1, stems: sum }
}
