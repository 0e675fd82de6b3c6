// What waits for storage. A finger is quicker than a disk: what it does is kept in line, some of it travels in one
// operation, and each is answered once it is on disk or refused.

import type { Notebook, Said } from '../sync/notebook'

export interface Waiting<T> {
  readonly one: T
  readonly stored: () => void
  readonly failed: (reason: unknown) => void
}

/** What of a batch is stored, and who of the others is told why not once that is done; the rest were told by then. */
export interface Saying<T> {
  readonly kept: readonly Waiting<T>[]
  readonly refused?: readonly (readonly [Waiting<T>, unknown])[]
  readonly said: Said
}

interface How<T> {
  /** How many of those that wait travel together, 1 at least. */
  readonly together: (waiting: readonly T[]) => number
  /** Asked when the batch's turn comes: a new identity of this phone may be on its way to the disk, under which it counts anew. */
  readonly say: (batch: readonly Waiting<T>[]) => Saying<T>
  /** Called once one is on disk and before the next in line is looked at. */
  readonly stored?: (one: T) => void
}

export class InTurn<T> {
  private readonly waiting: Waiting<T>[] = []
  private running = false
  private readonly notebook: Notebook
  private readonly how: How<T>

  constructor(notebook: Notebook, how: How<T>) {
    this.notebook = notebook
    this.how = how
  }

  /** Resolves when it is on disk; rejects with why it is not, and then what stood before stands. */
  push(one: T): Promise<void> {
    return new Promise((stored, failed) => {
      this.waiting.push({ one, stored, failed })
      void this.run()
    })
  }

  private async run(): Promise<void> {
    if (this.running) return
    this.running = true
    try {
      while (this.waiting.length > 0) {
        const many = this.how.together(this.waiting.map(({ one }) => one))
        await this.store(this.waiting.splice(0, many))
      }
    } finally {
      this.running = false
    }
  }

  private async store(batch: readonly Waiting<T>[]): Promise<void> {
    let saying: Saying<T> | undefined
    try {
      await this.notebook.recordInTurn(() => {
        saying = this.how.say(batch)
        return saying.said
      })
    } catch (reason) {
      for (const { failed } of batch) failed(reason) // says nothing new to those that were answered
      return
    }
    // What is kept with the next batch stands on this one, and a promise would tell of it too late.
    for (const { one } of saying?.kept ?? []) this.how.stored?.(one)
    for (const { stored } of saying?.kept ?? []) stored()
    for (const [{ failed }, reason] of saying?.refused ?? []) failed(reason)
  }
}
