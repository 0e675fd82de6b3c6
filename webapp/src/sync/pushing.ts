// Which of the framed changes go into the next push: whole operations, in seq order, or a part of one
// that is too large for a frame.

import type { Change, Stamp, Value } from '../log/change'
import { maxElements } from '../log/batch'
import { textLength } from '../log/bytes'
import { maxFrameBytes, maxFrameChanges } from '../log/check'
import type { Framed, OwnLog } from './own_log'
import { lastSeq } from './own_log'

/** A push of several operations stays below this many characters, so that it is on its way soon. */
const pushCharacters = 256 << 10

export interface Push {
  readonly changes: readonly Change[]
  /** The orders that a shed had given before it was restored. */
  readonly orders: readonly (Stamp | null)[]
}

/** The push that follows the given seq; undefined where nothing is framed beyond it, up to the last. */
export function nextPush(log: OwnLog, incarnation: string, sent: number, last: number): Push | undefined {
  const changes: Change[] = []
  const orders: (Stamp | null)[] = []
  let characters = 0
  let elements = 0
  for (const framed of log.beyond(incarnation, sent)) {
    if (framed.operation.first > last) break
    if (isLarge(framed)) {
      if (changes.length > 0) break
      return partOf(framed, sent)
    }
    characters += framed.operation.texts.reduce((n, text) => n + text.length, 0)
    elements += elementsIn(framed.changes)
    const full = changes.length + framed.changes.length > maxFrameChanges || characters > pushCharacters || elements > maxElements
    if (changes.length > 0 && full) break
    changes.push(...framed.changes)
    orders.push(...framed.operation.orders)
  }
  return changes.length > 0 ? { changes, orders } : undefined
}

/** More than a frame may hold. */
function isLarge({ operation: { texts }, changes }: Framed): boolean {
  if (texts.length > maxFrameChanges || elementsIn(changes) > maxElements) return true
  const characters = texts.reduce((n, text) => n + text.length, 0)
  return 3 * characters > maxFrameBytes && texts.reduce((n, text) => n + textLength(text), 0) > maxFrameBytes
}

/**
 * As much of the operation beyond the seq as a frame may hold. What one change has of anything is less
 * than a third of that, so a part that is not the last always has enough for the shed to put aside.
 */
function partOf({ operation, changes }: Framed, sent: number): Push {
  const from = Math.max(0, sent + 1 - operation.first)
  let to = from
  for (let bytes = 0, elements = 0; to < changes.length && to - from < maxFrameChanges; to++) {
    bytes += textLength(operation.texts[to]!)
    elements += elementsOf(changes[to]!)
    if (bytes > maxFrameBytes || elements > maxElements) break
  }
  return { changes: changes.slice(from, to), orders: operation.orders.slice(from, to) }
}

export function elementsIn(changes: readonly Change[]): number {
  return changes.reduce((n, change) => n + elementsOf(change), 0)
}

/** Elements of all lists that it has. */
export function elementsOf({ value, extra }: Pick<Change, 'value' | 'extra'>): number {
  return [value, ...Object.values(extra ?? {})].reduce<number>((n, v) => n + lengthOf(v), 0)
}

function lengthOf(value: Value): number {
  return typeof value === 'object' ? value.length : 0
}

/** The last change that was not sent again under a later incarnation; 0 for none. */
export function lastUnmoved(log: OwnLog, incarnation: string): number {
  const last = log.beyond(incarnation, 0).findLast(({ operation }) => !operation.moved)
  return last ? lastSeq(last.operation) : 0
}
