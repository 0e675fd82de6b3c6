// Which lots to fetch from the cooler before packing, how many stems of each and for whom: what the next bunches of every
// line would be made of, if they were all packed now.

import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { BuyerID } from '../crop/sale_nouns'
import type { DayNow } from './day_now'
import { drawBunches, type Filling, type LotStems, mayGo, without } from './draw'
import type { DueLine } from './due_lines'
import type { PackingAnswer } from './packing_answer'
import type { Wishes } from './plans'
import { meets } from './wanted'

export interface Picked {
  readonly lot: Lot
  readonly stems: number
  readonly for: ReadonlyMap<BuyerID, number>
}

/** Why nothing is fetched for a bunch: of these, only for `none` is there too little to fetch. */
export type Unfetched = 'none' | 'left_out' | 'size' | 'unplanned' | 'kept' | 'elsewhere'

export interface PickList {
  /** The oldest first. */
  readonly lots: readonly Picked[]
  /** Bunches for which nothing is fetched. */
  readonly short: ReadonlyMap<Unfetched, number>
}

interface ToPick {
  readonly now: DayNow
  readonly plan: PackingAnswer | undefined
  readonly wishes: Wishes
  readonly fillingOf: (due: DueLine) => Filling
}

/** Bunches of a line for which nothing is fetched, those that an owner left out apart from the others. */
interface Missing {
  readonly filling: Filling
  readonly leftOut: number
  readonly bunches: number
  /** Stems that are fetched for the line all the same. */
  readonly got: number
}

export function pickList({ now, plan, wishes, fillingOf }: ToPick): PickList {
  let left = now.lots
  let meant = now.meant(plan)
  const picked = new Map<string, Map<BuyerID, number>>()
  const missing: Missing[] = []
  for (const due of now.lines) {
    const filling = fillingOf(due)
    const open = Math.max(due.line.bunches - due.packed.bunches, 0)
    const wished = Math.min(open, mostWished(due, wishes))
    const drawn = drawBunches({ ...filling, plan, meant, lots: left }, Math.min(wished, stillPlanned(due, plan)))
    const bunches = due.line.whole && drawn.length < open ? [] : drawn
    missing.push({ filling, leftOut: open - wished, bunches: wished - bunches.length, got: bunches.length * due.line.stems })
    const taken = takenFor(bunches)
    for (const [cell, n] of taken) {
      const buyers = picked.get(cell) ?? new Map<BuyerID, number>()
      picked.set(cell, buyers.set(due.buyer, (buyers.get(due.buyer) ?? 0) + n))
    }
    left = left.map((lot) => ({ ...lot, left: lot.left - (taken.get(lotCell(lot.id)) ?? 0) }))
    // Nothing is meant any more for a line that was looked at.
    meant = without(meant, due.line.id)
  }
  return { lots: now.lots.flatMap((lot) => pickedOf(lot, picked.get(lotCell(lot.id)))), short: shortOf(missing, now.lots, left) }
}

function takenFor(bunches: readonly LotStems[]): Map<string, number> {
  const taken = new Map<string, number>()
  for (const bunch of bunches) for (const [cell, n] of bunch) taken.set(cell, (taken.get(cell) ?? 0) + n)
  return taken
}

/** As many bunches more as an owner wants of the line. */
function mostWished({ line, packed }: DueLine, { pinned, refused }: Wishes): number {
  return refused.has(line.id) ? 0 : Math.max((pinned.get(line.id) ?? Infinity) - packed.bunches, 0)
}

/** As many bunches as the plan still means for the line; all that are ordered where it knows nothing of it. */
function stillPlanned({ line, packed }: DueLine, plan: PackingAnswer | undefined): number {
  const planned = plan?.lines.find((one) => one.line === line.id)
  return planned ? Math.max(planned.packed + planned.more - packed.bunches, 0) : line.bunches
}

function shortOf(missing: readonly Missing[], there: readonly Lot[], left: readonly Lot[]): Map<Unfetched, number> {
  const short = new Map<Unfetched, number>()
  const add = (why: Unfetched, bunches: number) => { if (bunches > 0) short.set(why, (short.get(why) ?? 0) + bunches) }
  for (const one of missing) {
    add(whyUnfetched(one, there, left), one.bunches)
    add('left_out', one.leftOut)
  }
  return short
}

/** By what lies there, and what is left of it once everything is fetched. Mirrors internal/selling/short.go. */
function whyUnfetched({ filling, bunches, got }: Missing, there: readonly Lot[], left: readonly Lot[]): Unfetched {
  const { line, colours } = filling.due
  if (line.stems <= 0) return 'size'
  const need = (line.whole ? bunches : 1) * line.stems
  if (stemsOf(left, (lot) => mayGo(lot, filling)) >= need) return 'unplanned'
  if (stemsOf(left, (lot) => meets(lot.id, line, colours)) >= need) return 'kept'
  return stemsOf(there, (lot) => mayGo(lot, filling)) >= got + need ? 'elsewhere' : 'none'
}

function stemsOf(lots: readonly Lot[], which: (lot: Lot) => boolean): number {
  return lots.reduce((sum, lot) => (lot.left > 0 && which(lot) ? sum + lot.left : sum), 0)
}

function pickedOf(lot: Lot, buyers: ReadonlyMap<BuyerID, number> | undefined): Picked[] {
  const stems = [...buyers?.values() ?? []].reduce((sum, n) => sum + n, 0)
  return buyers && stems > 0 ? [{ lot, stems, for: buyers }] : []
}
