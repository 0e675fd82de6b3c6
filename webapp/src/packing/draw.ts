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

/**
 * What the plan still means for each line, by the lines as they are due now with what is packed of them. A line that is
 * due no longer, or is full, keeps nothing from the others.
 */
export function meantFor(plan: PackingAnswer | undefined, lines: Iterable<DueLine>): Map<LineID, LotStems> {
  const planned = new Map(plan?.lines.map((one) => [one.line, one]))
  const meant = new Map<LineID, LotStems>()
  for (const due of lines) {
    const of = planned.get(due.line.id)
    if (of) meant.set(due.line.id, stillMeant(of, due))
  }
  return meant
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

/** All that the plan means for other lines. */
function meantForOthers(meant: ReadonlyMap<LineID, LotStems>, line: LineID): Map<string, number> {
  const others = new Map<string, number>()
  for (const [id, stems] of meant) {
    if (id !== line) for (const [lot, n] of stems) others.set(lot, (others.get(lot) ?? 0) + n)
  }
  return others
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
  readonly meant: ReadonlyMap<LineID, LotStems>
  /** An owner wants it whatever the plan means for others; theirs go last. */
  readonly overruled?: boolean
}

/** The stems of one bunch; undefined where there are not enough. */
export function drawBunch(drawing: Drawing): Map<string, number> | undefined {
  const { due, meant } = drawing
  let need = due.line.stems
  if (need <= 0) return undefined
  const lots = drawing.lots.filter((lot) => mayGo(lot, drawing))
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
  for (const { id, left } of lots) take(lotCell(id), Math.min(left, own?.get(lotCell(id)) ?? 0))
  for (const { id, left } of lots) take(lotCell(id), left - (bunch.get(lotCell(id)) ?? 0) - (others.get(lotCell(id)) ?? 0))
  if (drawing.overruled) for (const { id, left } of lots) take(lotCell(id), left - (bunch.get(lotCell(id)) ?? 0))
  return need > 0 ? undefined : bunch
}

interface DrawingMany extends Omit<Drawing, 'meant'> {
  readonly plan: PackingAnswer | undefined
  /** All of the day, with what is packed of them; `due` is one. */
  readonly lines: readonly DueLine[]
}

/** The stems of so many bunches of a line, one after the other; fewer where stems give out. */
export function drawBunches(drawing: DrawingMany, most: number): Map<string, number>[] {
  const bunches: Map<string, number>[] = []
  let { due, lots } = drawing
  while (bunches.length < most) {
    const lines = drawing.lines.map((one) => (one.line.id === due.line.id ? due : one))
    const bunch = drawBunch({ ...drawing, due, lots, meant: meantFor(drawing.plan, lines) })
    if (!bunch) break
    bunches.push(bunch)
    due = { ...due, packed: withBunch(due.packed, bunch) }
    lots = lots.map((lot) => ({ ...lot, left: lot.left - (bunch.get(lotCell(lot.id)) ?? 0) }))
  }
  return bunches
}

function withBunch({ bunches, stems }: PackedSoFar, bunch: LotStems): PackedSoFar {
  const sum = new Map(stems)
  for (const [lot, n] of bunch) sum.set(lot, (sum.get(lot) ?? 0) + n)
  return { bunches: bunches + 1, stems: sum }
}
