// Which lots to fetch from the cooler before packing, how many stems of each and for whom: what the next bunches of every
// line would be made of, if they were all packed now.

import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { BuyerID } from '../crop/sale_nouns'
import type { DayNow } from './day_now'
import { drawBunches, type Filling, without } from './draw'
import type { DueLine } from './due_lines'
import type { PackingAnswer } from './packing_answer'

export interface Picked {
  readonly lot: Lot
  readonly stems: number
  readonly for: ReadonlyMap<BuyerID, number>
}

export interface PickList {
  /** The oldest first. */
  readonly lots: readonly Picked[]
  /** Bunches for which there are no stems. */
  readonly short: number
}

interface ToPick {
  readonly now: DayNow
  readonly plan: PackingAnswer | undefined
  readonly fillingOf: (due: DueLine) => Filling
}

export function pickList({ now, plan, fillingOf }: ToPick): PickList {
  const { lines, lots } = now
  let left = lots
  let meant = now.meant(plan)
  const picked = new Map<string, Map<BuyerID, number>>()
  let short = 0
  for (const due of lines) {
    const open = Math.max(due.line.bunches - due.packed.bunches, 0)
    const drawn = drawBunches({ ...fillingOf(due), plan, meant, lots: left }, Math.min(open, stillPlanned(due, plan)))
    const bunches = due.line.whole && drawn.length < open ? [] : drawn
    short += open - bunches.length
    const taken = new Map<string, number>()
    for (const bunch of bunches) for (const [cell, n] of bunch) taken.set(cell, (taken.get(cell) ?? 0) + n)
    for (const [cell, n] of taken) {
      const buyers = picked.get(cell) ?? new Map<BuyerID, number>()
      picked.set(cell, buyers.set(due.buyer, (buyers.get(due.buyer) ?? 0) + n))
    }
    left = left.map((lot) => ({ ...lot, left: lot.left - (taken.get(lotCell(lot.id)) ?? 0) }))
    // Nothing is meant any more for a line that was looked at.
    meant = without(meant, due.line.id)
  }
  return { lots: lots.flatMap((lot) => pickedOf(lot, picked.get(lotCell(lot.id)))), short }
}

/** As many bunches as the plan still means for the line; all that are ordered where it knows nothing of it. */
function stillPlanned({ line, packed }: DueLine, plan: PackingAnswer | undefined): number {
  const planned = plan?.lines.find((one) => one.line === line.id)
  return planned ? Math.max(planned.packed + planned.more - packed.bunches, 0) : line.bunches
}

function pickedOf(lot: Lot, buyers: ReadonlyMap<BuyerID, number> | undefined): Picked[] {
  const stems = [...buyers?.values() ?? []].reduce((sum, n) => sum + n, 0)
  return buyers && stems > 0 ? [{ lot, stems, for: buyers }] : []
}
