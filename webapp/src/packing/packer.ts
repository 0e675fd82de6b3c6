// Packing by taps: each is one bunch, of the lots that are next for its line, and shows once it is stored. The last ones
// can be taken back, also after the app was closed.

import { signal } from '@preact/signals'
import type { LineID } from '../crop/sale_nouns'
import { channelOf } from '../crop/price_of'
import type { Notebook } from '../sync/notebook'
import { InTurn, type Saying, type Waiting } from '../ui/in_turn'
import { keepingBunches, type PackedBunch, packedBunches } from '../ui/packed_bunches'
import { today } from '../ui/today'
import { drawBunch, meantFor } from './draw'
import type { DueLine } from './due_lines'
import { planOf } from './plans'
import { Tally } from './tally'

/** Why a tap packed nothing. */
export class NotPacked extends Error {
  constructor(readonly why: 'full' | 'few' | 'nothing') {
    super(`nothing was packed: ${why}`)
    this.name = 'NotPacked'
  }
}

interface Step {
  /** Puts it among what stands; why not, where it cannot be. */
  readonly take: (tally: Tally, bunches: PackedBunch[]) => Error | undefined
}

const packers = new WeakMap<Notebook, Packer>()

export class Packer {
  /** The last bunches, the newest last. */
  readonly bunches = signal<readonly PackedBunch[]>([])
  /** Why the last tap was not kept, and of which line. */
  readonly failure = signal<{ readonly reason: unknown; readonly line: LineID | undefined } | undefined>(undefined)

  private readonly line: InTurn<Step>

  constructor(private readonly notebook: Notebook) {
    this.line = new InTurn<Step>(notebook, { together: (waiting) => waiting.length, say: (batch) => this.say(batch) })
    this.show()
  }

  static of(notebook: Notebook): Packer {
    const packer = packers.get(notebook) ?? new Packer(notebook)
    packers.set(notebook, packer)
    return packer
  }

  /** One bunch of the lots that are next for the line. */
  pack(due: DueLine): Promise<boolean> {
    return this.attempt(due.line.id, {
      take: (tally, bunches) => {
        if (tally.packedOf(due.line.id).bunches >= due.line.bunches) return new NotPacked('full')
        const stems = this.next(tally, due)
        return stems ? this.add(tally, bunches, due, stems) : new NotPacked('few')
      },
    })
  }

  /** One bunch of the lots told, whatever was ordered or meant for others. */
  packOf(due: DueLine, stems: ReadonlyMap<string, number>): Promise<boolean> {
    return this.attempt(due.line.id, { take: (tally, bunches) => this.add(tally, bunches, due, stems) })
  }

  /** Takes the last bunch back: of a line where one is told. */
  takeBack(line?: LineID): Promise<boolean> {
    return this.attempt(line, {
      take: (tally, bunches) => {
        const at = bunches.findLastIndex((one) => line === undefined || one.line === line)
        const last = bunches[at]
        if (!last) return new NotPacked('nothing')
        bunches.splice(at, 1) // where it cannot be taken back now, it never can
        return tally.add({ ...last, bunches: -1, stems: new Map(last.stems.map(([lot, n]) => [lot, -n])) })
      },
    })
  }

  /** Stems of the next bunch of a line as things stand; undefined where there are not enough. */
  preview(due: DueLine): ReadonlyMap<string, number> | undefined {
    return this.next(new Tally(this.notebook, today.peek()), due)
  }

  private next(tally: Tally, due: DueLine): Map<string, number> | undefined {
    const plan = planOf(this.notebook, due.day).shed.answer.peek()
    const meant = meantFor(plan, (line) => tally.packedOf(line))
    return drawBunch({ due, channel: channelOf(this.notebook.farm.peek().sales, due.buyer), lots: tally.lots(due.day), meant })
  }

  private add(tally: Tally, bunches: PackedBunch[], due: DueLine, stems: ReadonlyMap<string, number>): Error | undefined {
    const packed = tally.packedID(due)
    const problem = tally.add({ packed, line: due.line.id, bunches: 1, stems })
    if (!problem) bunches.push({ packed, line: due.line.id, buyer: due.buyer, due: due.day, stems: [...stems] })
    return problem
  }

  private say(batch: readonly Waiting<Step>[]): Saying<Step> {
    const tally = new Tally(this.notebook, today.peek())
    const bunches = [...packedBunches(this.notebook)]
    const done: Waiting<Step>[] = []
    const refused: [Waiting<Step>, Error][] = []
    for (const waiting of batch) {
      const problem = waiting.one.take(tally, bunches)
      if (problem) refused.push([waiting, problem])
      else done.push(waiting)
    }
    return { kept: done, refused, said: { facts: tally.facts(), alongside: keepingBunches(bunches) } }
  }

  private async attempt(line: LineID | undefined, step: Step): Promise<boolean> {
    try {
      await this.line.push(step)
      this.failure.value = undefined
      return true
    } catch (reason) {
      this.failure.value = { reason, line }
      return false
    } finally {
      this.show()
    }
  }

  /** Another page may have taken a bunch back since. */
  show(): void {
    this.bunches.value = packedBunches(this.notebook)
  }
}

