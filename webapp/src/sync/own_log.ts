// The phone's own framed changes, under every incarnation it has had. Nothing leaves it: what the
// shed refused stays too, and a restored shed is filled from it.

import type { OwnOperation } from '../db/records'
import { changeOf } from '../log/canonical'
import { chainAfter, chainStart } from '../log/chain'
import type { Change } from '../log/change'
import { identityOf } from '../log/identity'

/** An operation with its changes read. */
export interface Framed {
  readonly operation: OwnOperation
  readonly changes: readonly Change[]
}

export class OwnLog {
  private readonly incarnations = new Map<string, Framed[]>()
  /** Asked for at every turn of the sync, so not to be looked for in the whole log. */
  private readonly holdingRefused = new Map<string, Framed>()

  constructor(private readonly farm: string) {}

  /** Takes an operation in, in place of the one with the same first seq. */
  put(operation: OwnOperation): Framed {
    const log = this.logOf(operation.incarnation)
    const at = after(log, operation.first - 1)
    const standing = log[at]?.operation.first === operation.first ? log[at] : undefined
    const changes = standing?.changes ?? operation.texts.map(text => changeOf(JSON.parse(text)))
    const framed = { operation, changes }
    log.splice(at, standing ? 1 : 0, framed)
    const name = identityOf(operation.incarnation, operation.first)
    if (operation.refused.length > 0 && !operation.moved) this.holdingRefused.set(name, framed)
    else this.holdingRefused.delete(name)
    return framed
  }

  /** The operations of which the shed refused something; one that was sent again is its later self. */
  refused(): Iterable<Framed> {
    return this.holdingRefused.values()
  }

  private logOf(incarnation: string): Framed[] {
    let log = this.incarnations.get(incarnation)
    if (!log) this.incarnations.set(incarnation, (log = []))
    return log
  }

  /** The operations of an incarnation that hold a seq above the given one. */
  beyond(incarnation: string, seq: number): readonly Framed[] {
    const log = this.incarnations.get(incarnation) ?? []
    return log.slice(firstBeyond(log, seq))
  }

  countBeyond(incarnation: string, seq: number): number {
    const log = this.incarnations.get(incarnation) ?? []
    return log.length - firstBeyond(log, seq)
  }

  /** The operation that holds a change. */
  holding(incarnation: string, seq: number): Framed | undefined {
    const log = this.incarnations.get(incarnation) ?? []
    const framed = log[after(log, seq) - 1]
    return framed && seq <= lastSeq(framed.operation) ? framed : undefined
  }

  /** The chain value after a seq; undefined where the log does not reach so far. */
  hashAt(incarnation: string, seq: number): string | undefined {
    if (seq === 0) return chainStart(this.farm, incarnation)
    const operation = this.holding(incarnation, seq)?.operation
    if (!operation) return undefined
    if (seq === lastSeq(operation)) return operation.hash
    const before = this.hashAt(incarnation, operation.first - 1)
    return before && chainAfter(before, operation.texts.slice(0, seq - operation.first + 1))
  }

  *[Symbol.iterator](): IterableIterator<Framed> {
    for (const log of this.incarnations.values()) yield* log
  }
}

export function lastSeq(operation: OwnOperation): number {
  return operation.first + operation.texts.length - 1
}

/** Index of the first operation that holds a seq above the given one. */
function firstBeyond(log: readonly Framed[], seq: number): number {
  const at = after(log, seq)
  const before = log[at - 1]
  return before && lastSeq(before.operation) > seq ? at - 1 : at
}

/** Index of the first operation that begins above the seq. */
function after(log: readonly Framed[], seq: number): number {
  let low = 0
  let high = log.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (log[middle]!.operation.first > seq) high = middle
    else low = middle + 1
  }
  return low
}
