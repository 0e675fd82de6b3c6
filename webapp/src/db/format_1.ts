// Format 1 of a farm's records kept the history as JSON. What it showed is shown on, also where no shed
// is near to tell it again.

import { packAlone } from '../log/batch_pack'
import { Unpacker } from '../log/batch_unpack'
import { changeOf, readJSON, ShapeError } from '../log/canonical'
import type { Change, Stamp } from '../log/change'
import { maxFrameChanges } from '../log/check'
import type { HistoryChunk } from './records'

export interface Format1Chunk {
  readonly generation: number
  readonly number: number
  /** JSON array of canonical changes. */
  readonly changes: string
  /** l and c of each change's order, in turn. */
  readonly orders: readonly number[]
}

interface Told {
  readonly change: Change
  readonly order: Stamp
}

/** The same changes packed; throws a ShapeError where the chunk, or something in it, cannot be read. */
export function packedChunk({ generation, number, changes, orders }: Format1Chunk): HistoryChunk {
  const all = readJSON(changes) as unknown[]
  if (orders.length !== 2 * all.length) throw new ShapeError('a chunk does not tell an order for each change')
  const told = all.map((parts, i): Told => ({ change: changeOf(parts), order: { l: orders[2 * i]!, c: orders[2 * i + 1]! } }))
  return { generation, number, batches: packed(told), count: told.length }
}

/** As few batches as read back: the limits of one are not those that a frame of format 1 had. */
function packed(told: readonly Told[]): Uint8Array[] {
  if (told.length > maxFrameChanges) return inHalves(told)
  const batch = packAlone({ changes: told.map(({ change }) => change), orders: told.map(({ order }) => order) })
  try {
    new Unpacker().read(batch)
    return [batch]
  } catch (cause) {
    if (!(cause instanceof ShapeError) || told.length === 1) throw cause
    return inHalves(told)
  }
}

function inHalves(told: readonly Told[]): Uint8Array[] {
  const half = told.length >> 1
  return [...packed(told.slice(0, half)), ...packed(told.slice(half))]
}
