// What goes out on one line: the pushes of one incarnation, packed one after the other, and how many
// of them are under way.

import type { Batch } from '../log/batch'
import { Packer } from '../log/batch_pack'
import type { Book } from './book'
import type { Ack, Welcome } from './messages'
import { pushMessage } from './messages'
import { OriginFinder } from './origins'
import { nextPush } from './pushing'

/** Pushes under way at a time. */
const window = 4

export class Outbox {
  /** Highest seq sent on this line, or settled. */
  sentTo: number
  private readonly packer = new Packer()
  private readonly underWay: number[] = []
  private readonly origins: OriginFinder

  constructor(
    private readonly book: Book,
    readonly incarnation: string,
    settled: number,
  ) {
    this.sentTo = settled
    this.origins = new OriginFinder(book)
  }

  /** Goes on behind what is known to be settled, or in the midst of an operation of which the shed has parts. */
  resume({ seq, staged, stagedHash }: Pick<Welcome, 'seq' | 'staged' | 'stagedHash'>, known: number): void {
    const goesOn = known === seq && staged > seq && this.book.own.hashAt(this.incarnation, staged) === stagedHash
    this.sentTo = goesOn ? staged : known
  }

  get isFull(): boolean {
    return this.underWay.length >= window
  }

  /** The next push, up to the last seq; undefined where there is none or enough is under way. */
  next(last: number): Uint8Array | undefined {
    if (this.isFull) return undefined
    const push = nextPush(this.book.own, this.incarnation, this.sentTo, last)
    if (!push) return undefined
    this.sentTo = push.changes.at(-1)!.seq
    this.underWay.push(this.sentTo)
    const batch: Batch = { ...push, origins: this.origins.of(push.changes) }
    return pushMessage(this.packer, batch)
  }

  /** Tells whether it acknowledges only what was sent. */
  acknowledged({ seq, staged }: Ack): boolean {
    const to = Math.max(seq, staged)
    while (this.underWay.length > 0 && this.underWay[0]! <= to) this.underWay.shift()
    return to <= this.sentTo
  }
}
