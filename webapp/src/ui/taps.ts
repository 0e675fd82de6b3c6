// Taps that wait for storage. A finger is quicker than a disk: taps are kept in line, those at the
// same visit travel in one operation, and each is answered once it is on disk or refused.

import type { VisitID } from '../crop/nouns'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'

export interface Tap {
  readonly visit: VisitID
  readonly cell: string
  /** Stems to add; below zero takes back. */
  readonly add: number
  /** Largest total that the cell may reach. */
  readonly most: number
  /** Facts to store with the count, asked for when its turn comes: the visit itself if it is new. */
  readonly before: () => readonly Fact[]
  readonly count: (value: number) => Fact
}

/** Why a tap was not counted, beside a storage failure. */
export class OverTheMost extends Error {
  readonly most: number
  constructor(most: number) {
    super(`the count would pass ${most}`)
    this.name = 'OverTheMost'
    this.most = most
  }
}

interface Waiting<T extends Tap> {
  readonly tap: T
  readonly stored: () => void
  readonly failed: (reason: unknown) => void
}

export class TapQueue<T extends Tap = Tap> {
  private readonly waiting: Waiting<T>[] = []
  private running = false
  private readonly notebook: Notebook
  private readonly alongside: (kept: readonly T[]) => Readonly<Record<string, unknown>>

  /** alongside says what this device is to keep with the taps, in the same transaction. */
  constructor(notebook: Notebook, alongside: (kept: readonly T[]) => Readonly<Record<string, unknown>> = () => ({})) {
    this.notebook = notebook
    this.alongside = alongside
  }

  /** Resolves when the tap is on disk; rejects with RecordError or OverTheMost, and then the old number stands. */
  push(tap: T): Promise<void> {
    return new Promise((stored, failed) => {
      this.waiting.push({ tap, stored, failed })
      void this.run()
    })
  }

  private async run(): Promise<void> {
    if (this.running) return
    this.running = true
    while (this.waiting.length > 0) await this.storeBatch(this.takeBatch())
    this.running = false
  }

  /** The first tap in line and those straight behind it at the same visit. */
  private takeBatch(): Waiting<T>[] {
    const visit = this.waiting[0]?.tap.visit
    const end = this.waiting.findIndex(({ tap }) => tap.visit !== visit)
    return this.waiting.splice(0, end < 0 ? this.waiting.length : end)
  }

  private async storeBatch(batch: Waiting<T>[]): Promise<void> {
    const { kept, counts } = this.addUp(batch)
    const first = kept[0]
    if (!first) return
    try {
      await this.notebook.record([...first.tap.before(), ...counts], this.alongside(kept.map(({ tap }) => tap)))
      for (const { stored } of kept) stored()
    } catch (reason) {
      for (const { failed } of kept) failed(reason)
    }
  }

  private addUp(batch: Waiting<T>[]): { kept: Waiting<T>[]; counts: Fact[] } {
    const cells = new Map<string, { own: number; total: number; tap: Tap }>()
    const kept: Waiting<T>[] = []
    for (const waiting of batch) {
      const { tap } = waiting
      const cell = cells.get(tap.cell) ?? { ...this.notebook.cell(tap.visit, tap.cell), tap }
      const own = cell.own + tap.add
      const total = cell.total + tap.add
      if (tap.add > 0 && (own > tap.most || total > tap.most) || own < 0) {
        waiting.failed(new OverTheMost(tap.most))
        continue
      }
      cells.set(tap.cell, { own, total, tap })
      kept.push(waiting)
    }
    return { kept, counts: [...cells.values()].map(({ own, tap }) => tap.count(own)) }
  }
}
