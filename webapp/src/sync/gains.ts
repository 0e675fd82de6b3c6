// What a message brings the phone. It counts once it is on disk: then the screen says it, and a line
// that is lost is tried again soon.

import type { Pen } from '../db/records'
import type { Ack } from './messages'
import type { Progress } from './progress'
import type { Retry } from './retry'

interface Gain {
  /** The cursor moves, or the shed has more of what is pushed than it ever had. */
  readonly further: boolean
  /** The shed took what was pushed. */
  readonly taken: boolean
  /** Operations that the shed confirmed. */
  readonly confirmed: number
}

const nothing: Gain = { further: false, taken: false, confirmed: 0 }

export class Gains {
  private beingStored = nothing
  /** The highest seq ever put aside of a large operation. */
  private aside = 0

  constructor(
    private readonly retry: Retry,
    private readonly progress: Progress,
  ) {}

  /** A welcome by itself brings nothing but the word on changes whose acknowledgement was lost. */
  welcome(confirmed: number): void {
    this.beingStored = { ...nothing, confirmed }
  }

  /** settled is the seq up to which all was settled before; nothing is confirmed anew where an earlier incarnation is filled in. */
  ack(ack: Ack, settled: number, confirmed: number): void {
    const further = ack.seq > settled || ack.staged > this.aside
    this.aside = Math.max(this.aside, ack.staged)
    this.beingStored = { further, taken: further, confirmed }
  }

  /** read is the arrival number up to which the phone had read before. */
  news(arrival: number, read: number): void {
    this.beingStored = { ...nothing, further: arrival > read }
  }

  stored({ settled, seq }: Pen): void {
    const { further, taken, confirmed } = this.beingStored
    this.beingStored = nothing
    this.progress.confirmed += confirmed
    if (further) this.retry.gotOn()
    // A shed that takes no pushes has shown by nothing but an acknowledgement that it takes them again.
    if (taken || (further && settled === seq)) this.retry.taken()
  }

  notStored(): void {
    this.beingStored = nothing
  }
}
