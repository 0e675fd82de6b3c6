// What a phone keeps of one farm, as it lies in its database.

import type { Batch } from '../log/batch'
import type { Fact, Scope, Stamp } from '../log/change'

/** How far the phone has read (PROTOCOL.md, section 5). */
export interface Cursor {
  readonly epoch: string
  readonly scopes: readonly Scope[]
  readonly arrival: number
  /** As the last news told it; '' at 0. */
  readonly last: string
}

/** Facts recorded together and not framed yet: no seq, and the next tap may take their place. */
export interface DraftOperation {
  readonly id: number
  readonly stamp: Stamp
  readonly facts: readonly DraftFact[]
}

export interface DraftFact {
  readonly fact: Fact
  readonly person: string
}

/** A framed operation of this phone: seq and bytes are frozen. */
export interface OwnOperation {
  readonly incarnation: string
  /** Seq of the first change. */
  readonly first: number
  /** Canonical bytes, one text a change. */
  readonly texts: readonly string[]
  /** Chain value after the last change. */
  readonly hash: string
  /** The order under which the shed keeps each change; null while untold, or where it does not. */
  readonly orders: readonly (Stamp | null)[]
  readonly refused: readonly RefusedSeq[]
  /**
   * Seqs that the shed holds under another identity: they stay here and count nowhere. Left out in
   * records of format 1.
   */
  readonly held?: readonly number[]
  /** Sent again under a later incarnation, so it counts only if the shed holds it after all. */
  readonly moved: boolean
}

export interface RefusedSeq {
  readonly seq: number
  readonly code: string
}

/**
 * Confirmed changes as they came, in arrival order: packed batches (PROTOCOL.md, section 4) in which
 * every order is told. Those of a generation are read by one Unpacker, in the order of their chunks.
 */
export interface HistoryChunk {
  readonly generation: number
  readonly number: number
  readonly batches: readonly Uint8Array[]
  /** Changes in all of them. */
  readonly count: number
}

/** The phone's own pen: under which identity it writes and how far that is settled. */
export interface Pen {
  readonly incarnation: string
  /** Earlier incarnations of this phone, the newest first. */
  readonly formers: readonly string[]
  /** Seq of the last framed change. */
  readonly seq: number
  /** Everything up to this seq is settled. */
  readonly settled: number
  readonly clock: Stamp
  /** Number of the last draft. */
  readonly draft: number
  /** Epoch of the shed that was last known to lack nothing of what the earlier incarnations wrote. */
  readonly filled?: string
  /** Where the shed's log stood when it last told what became of this phone's changes (PROTOCOL.md, section 5, 7.). */
  readonly own?: string
}

/** Where the confirmed history stands. */
export interface Reading {
  /** The generation of chunks that is shown. */
  readonly generation: number
  /** null: the shed is to send everything from the start. */
  readonly cursor: Cursor | null
  /** A reading anew that will take the shown one's place when it is complete. */
  readonly staging: { readonly generation: number; readonly cursor: Cursor } | null
  /** When the phone last was level with the shed, ms since 1970, 0 for never. */
  readonly levelAt: number
}

/** One write; a batch of them is stored in one transaction or not at all. */
export type Write =
  | { readonly kind: 'pen'; readonly pen: Pen }
  | { readonly kind: 'reading'; readonly reading: Reading }
  | { readonly kind: 'draft'; readonly draft: DraftOperation }
  | { readonly kind: 'drop_draft'; readonly draft: number }
  | { readonly kind: 'own'; readonly operation: OwnOperation }
  /** fresh: what the chunk holds beyond the one that it replaces, read. */
  | { readonly kind: 'chunk'; readonly chunk: HistoryChunk; readonly fresh: readonly Batch[] }
  | { readonly kind: 'forget'; readonly generation: number }
  | { readonly kind: 'kept'; readonly name: string; readonly value: unknown }

/** Everything that a farm's database holds. */
export interface Contents {
  readonly pen: Pen | undefined
  readonly reading: Reading | undefined
  readonly drafts: readonly DraftOperation[]
  readonly own: readonly OwnOperation[]
  readonly chunks: readonly HistoryChunk[]
  readonly kept: ReadonlyMap<string, unknown>
}

/** Where batches are stored; resolves when they are on disk, rejects with a StorageError. */
export interface Store {
  commit(writes: readonly Write[]): Promise<void>
  close(): void
}

/** Why storage did not do what was asked. */
export class StorageError extends Error {
  readonly reason: 'full' | 'lost' | 'closed' | 'newer_format' | 'unavailable'
  constructor(reason: StorageError['reason'], message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = 'StorageError'
    this.reason = reason
  }
}
