// Format 1 of a farm's records kept the history as JSON. What it showed is shown on, also where no shed
// is near to tell it again.

import { packAlone } from '../log/batch_pack'
import { changeOf, readJSON } from '../log/canonical'
import type { Stamp } from '../log/change'
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

/** The same changes packed; throws where the chunk is not of its shape. */
export function packedChunk({ generation, number, changes, orders }: Format1Chunk): HistoryChunk {
  const all = (readJSON(changes) as unknown[]).map(changeOf)
  const stamps = all.map((_, i): Stamp => ({ l: orders[2 * i]!, c: orders[2 * i + 1]! }))
  const batches: Uint8Array[] = []
  for (let from = 0; from < all.length; from += maxFrameChanges) {
    const to = from + maxFrameChanges
    batches.push(packAlone({ changes: all.slice(from, to), orders: stamps.slice(from, to) }))
  }
  return { generation, number, batches, count: all.length }
}
