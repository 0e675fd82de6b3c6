// The one door to the phone's records: whoever writes waits for their turn, plans on what stands,
// and sees the result only when it is on disk.

import type { Store, Write } from '../db/records'
import type { Book, Touched } from './book'

export class Keeper {
  /** Taps go before what the shed sends. */
  private readonly urgent: (() => Promise<void>)[] = []
  private readonly waiting: (() => Promise<void>)[] = []
  private running = false

  constructor(
    readonly book: Book,
    private readonly store: Store,
    private readonly onApplied: (touched: Touched) => void,
  ) {}

  /** Runs the work when nothing else is writing. */
  inTurn<T>(work: () => Promise<T>, urgent = false): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      const line = urgent ? this.urgent : this.waiting
      line.push(() => work().then(resolve, reject))
      if (!this.running) void this.run()
    })
  }

  private async run(): Promise<void> {
    this.running = true
    for (let next = this.next(); next; next = this.next()) {
      await next()
      if (this.waiting.length > 0) await pause()
    }
    this.running = false
  }

  private next(): (() => Promise<void>) | undefined {
    return this.urgent.shift() ?? this.waiting.shift()
  }

  /** Stores a batch and takes it into the book. To be called in turn. */
  async commit(writes: readonly Write[]): Promise<void> {
    if (writes.length === 0) return
    await this.store.commit(writes)
    this.onApplied(this.book.apply(writes))
  }

  close(): void {
    this.store.close()
  }
}

/** Lets the browser paint and hear taps between frames. A timer would be slow where the page is hidden. */
function pause(): Promise<void> {
  return new Promise(done => {
    const { port1, port2 } = new MessageChannel()
    port1.onmessage = () => {
      port1.close()
      done()
    }
    port2.postMessage(null)
  })
}
