// Which lots to fetch from the cooler before packing, how many stems of each and for whom: what the next bunches of every
// line would be made of, if they were all packed now.

import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { BuyerID, Channel, LineID } from '../crop/sale_nouns'
import { drawBunch, type LotStems, meantFor } from './draw'
import type { DueLine, PackedSoFar } from './due_lines'
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
  readonly lines: readonly DueLine[]
  readonly lots: readonly Lot[]
  readonly plan: PackingAnswer | undefined
  readonly channelOf: (buyer: BuyerID) => Channel | undefined
}

export function pickList({ lines, lots, plan, channelOf }: ToPick): PickList {
  const packed = new Map<LineID, { bunches: number; stems: Map<string, number> }>(
    lines.map(({ line, packed: now }) => [line.id, { bunches: now.bunches, stems: new Map(now.stems) }]),
  )
  const left = new Map(lots.map((lot) => [lotCell(lot.id), lot.left]))
  const picked = new Map<string, Map<BuyerID, number>>()
  const none: PackedSoFar = { bunches: 0, stems: new Map() }
  let short = 0
  for (const due of lines) {
    const of = packed.get(due.line.id)!
    for (const most = mostOf(due, plan); of.bunches < most; of.bunches++) {
      const meant: ReadonlyMap<LineID, LotStems> = meantFor(plan, (line) => packed.get(line) ?? none)
      const there = lots.map((lot) => ({ ...lot, left: left.get(lotCell(lot.id)) ?? 0 }))
      const bunch = drawBunch({ due, channel: channelOf(due.buyer), lots: there, meant })
      if (!bunch) break
      for (const [cell, n] of bunch) {
        left.set(cell, (left.get(cell) ?? 0) - n)
        of.stems.set(cell, (of.stems.get(cell) ?? 0) + n)
        const buyers = picked.get(cell) ?? new Map<BuyerID, number>()
        picked.set(cell, buyers.set(due.buyer, (buyers.get(due.buyer) ?? 0) + n))
      }
    }
    short += Math.max(due.line.bunches - of.bunches, 0)
  }
  return { lots: lots.flatMap((lot) => pickedOf(lot, picked.get(lotCell(lot.id)))), short }
}

/** As many bunches as the plan means for the line; all that are ordered where it knows nothing of it. */
function mostOf({ line }: DueLine, plan: PackingAnswer | undefined): number {
  const planned = plan?.lines.find((one) => one.line === line.id)
  return planned ? Math.min(planned.packed + planned.more, line.bunches) : line.bunches
}

function pickedOf(lot: Lot, buyers: ReadonlyMap<BuyerID, number> | undefined): Picked[] {
  const stems = [...buyers?.values() ?? []].reduce((sum, n) => sum + n, 0)
  return buyers && stems > 0 ? [{ lot, stems, for: buyers }] : []
}
