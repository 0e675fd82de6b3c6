// Taps that count stems of visits. They wait for storage in one line, and those at the same visit travel in one
// operation.

import type { VisitID } from '../crop/nouns'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'
import { InTurn, type Saying, type Waiting } from './in_turn'

/** What is told without a number, such as "nothing here": it waits in the same line, and travels by itself. */
export interface Telling {
  readonly visit: VisitID
  /**
   * Facts to store, asked for when its turn comes: with a count, the visit itself if it is new. Of counts that
   * are stored together the last is asked; adds is what all of them add to the visit, below zero take from it.
   */
  readonly before: (adds: number) => readonly Fact[]
  /** Called once it is on disk and before the next in line is looked at. */
  readonly stored?: () => void
}

export interface Tap extends Telling {
  readonly cell: string
  /** Stems to add; below zero takes back. */
  readonly add: number
  /** Largest total that the cell may reach. */
  readonly most: number
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

/** Why a key counted nothing: it counts where a stem was counted last, and none was yet. */
export class NoCellYet extends Error {
  constructor() {
    super('no cell was counted in yet')
    this.name = 'NoCellYet'
  }
}

/** Why a tap could not be taken back: less is left of the count than it added. */
export class ChangedSince extends Error {
  constructor() {
    super('the count was changed since')
    this.name = 'ChangedSince'
  }
}

export class TapQueue<T extends Telling = Tap> {
  private readonly line: InTurn<T>
  private readonly notebook: Notebook
  private readonly alongside: (kept: readonly T[]) => Readonly<Record<string, unknown>>

  /** alongside says what this device is to keep with the taps, in the same transaction. */
  constructor(notebook: Notebook, alongside: (kept: readonly T[]) => Readonly<Record<string, unknown>> = () => ({})) {
    this.notebook = notebook
    this.alongside = alongside
    this.line = new InTurn<T>(notebook, { together: atOneVisit, say: (batch) => this.say(batch), stored: (tap) => tap.stored?.() })
  }

  /** Resolves when the tap is on disk; rejects with RecordError, OverTheMost or ChangedSince, and then the old number stands. */
  push(tap: T): Promise<void> {
    return this.line.push(tap)
  }

  private say(batch: readonly Waiting<T>[]): Saying<T> {
    const { kept, facts } = this.addUp(batch)
    const newest = kept.at(-1)
    if (!newest) return { kept, said: { facts: [], alongside: {} } }
    // All say the same visit; where they differ in how it was cut, the last decides.
    const adds = kept.reduce((all, { one }) => all + stemsOf(one), 0)
    return { kept, said: { facts: [...newest.one.before(adds), ...facts], alongside: this.alongside(kept.map(({ one }) => one)) } }
  }

  private addUp(batch: readonly Waiting<T>[]): { kept: Waiting<T>[]; facts: Fact[] } {
    const cells = new Map<string, { own: number; total: number; tap: Tap }>()
    const kept: Waiting<T>[] = []
    for (const waiting of batch) {
      const tap: Telling = waiting.one
      if (!counts(tap)) {
        kept.push(waiting)
        continue
      }
      const cell = cells.get(tap.cell) ?? { ...this.notebook.cell(tap.visit, tap.cell), tap }
      const own = cell.own + tap.add
      const total = cell.total + tap.add
      const problem = problemOf(tap, own, total)
      if (problem) {
        waiting.failed(problem)
        continue
      }
      cells.set(tap.cell, { own, total, tap })
      kept.push(waiting)
    }
    return { kept, facts: [...cells.values()].map(({ own, tap }) => tap.count(own)) }
  }
}

/** The first in line and, where it counts, the counts straight behind it at the same visit. */
function atOneVisit(waiting: readonly Telling[]): number {
  const first = waiting[0]
  const alone = first !== undefined && !counts(first)
  const end = waiting.findIndex((tap, i) => i > 0 && (alone || !counts(tap) || tap.visit !== first?.visit))
  return end < 0 ? waiting.length : end
}

function counts(one: Telling): one is Tap {
  return 'cell' in one
}

function stemsOf(one: Telling): number {
  return counts(one) ? one.add : 0
}

/** Why a tap that would bring its cell to these numbers is not counted. */
function problemOf({ add, most }: Tap, own: number, total: number): Error | undefined {
  if (add > 0) return own > most || total > most ? new OverTheMost(most) : undefined
  return own < 0 || total < 0 ? new ChangedSince() : undefined
}
