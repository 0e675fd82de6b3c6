// Packing by taps: each is one bunch, of the lots that are next for its line, and shows once it is stored. The last ones
// can be taken back, also after the app was closed.

import { signal } from '@preact/signals'
import { mayManage } from '../crop/member'
import type { LineID } from '../crop/sale_nouns'
import { parseLotCell } from '../crop/lots'
import { channelOf } from '../crop/price_of'
import type { Notebook } from '../sync/notebook'
import { InTurn, type Saying, type Waiting } from '../ui/in_turn'
import { keepingBunches, type PackedBunch, packedBunches } from '../ui/packed_bunches'
import { today } from '../ui/today'
import { drawBunch, drawBunches, type Filling, keptBack } from './draw'
import type { DueLine } from './due_lines'
import { planOf } from './plans'
import { Tally } from './tally'

/**
 * Why nothing more is to go to a line: it was left out of the plan, or pinned to what it has, or is all or nothing and
 * not all of it can be had. An owner may pack it all the same.
 */
export type Held = 'refused' | 'pinned' | 'whole'

const helds: readonly string[] = ['refused', 'pinned', 'whole'] satisfies Held[]

export function isHeld(why: string): why is Held {
  return helds.includes(why)
}

/** What the next tap on a line does. */
export interface NextBunch {
  /** Undefined where there are not enough stems. */
  readonly stems: ReadonlyMap<string, number> | undefined
  readonly held: Held | undefined
}

/** Why a tap packed nothing; of 'kept', some of the lots are kept back from the line. */
export class NotPacked extends Error {
  constructor(readonly why: 'full' | 'few' | 'nothing' | 'kept' | Held) {
    super(`nothing was packed: ${why}`)
    this.name = 'NotPacked'
  }
}

interface Step {
  /** Puts it among what stands; why not, where it cannot be. */
  readonly take: (tally: Tally, bunches: PackedBunch[]) => Error | undefined
}

/** Milliseconds after a tap in which another may follow, so that nothing is to move under the thumb. */
const afterATap = 2_000

const packers = new WeakMap<Notebook, Packer>()

export class Packer {
  /** The last bunches, the newest last. */
  readonly bunches = signal<readonly PackedBunch[]>([])
  /** Why the last tap was not kept, and of which line. */
  readonly failure = signal<{ readonly reason: unknown; readonly line: LineID | undefined } | undefined>(undefined)

  /** Somebody is at it: a tap is on its way, or was a moment ago. */
  readonly tapping = signal(false)

  private readonly line: InTurn<Step>
  /** Lines that an owner packs all the same. */
  private readonly overruled = new Set<LineID>()
  private underWay = 0
  private quiet: ReturnType<typeof setTimeout> | undefined

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
        const { stems, held } = this.next(tally, due)
        if (held) return new NotPacked(held)
        return stems ? this.add(tally, bunches, due, stems) : new NotPacked('few')
      },
    })
  }

  /** An owner says to go on with a line to which nothing more is to go: this bunch and those after it. */
  packAllTheSame(due: DueLine): Promise<boolean> {
    if (this.manages()) this.overruled.add(due.line.id)
    return this.pack(due)
  }

  /** One bunch of the lots told, whatever was ordered or meant for others: an owner sees to what they may be. */
  packOf(due: DueLine, stems: ReadonlyMap<string, number>): Promise<boolean> {
    return this.attempt(due.line.id, {
      take: (tally, bunches) => {
        const forbidden = this.manages() ? undefined : this.next(tally, due).held ?? this.keptFrom(due, stems)
        return forbidden ? new NotPacked(forbidden) : this.add(tally, bunches, due, stems)
      },
    })
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

  /** What the next tap on a line does as things stand. */
  preview(due: DueLine): NextBunch {
    return this.next(new Tally(this.notebook, today.peek()), due)
  }

  /** A line with what this device knows of floors. Crew's knows no amounts; the plan tells which grades are kept back. */
  fillingOf(due: DueLine): Filling {
    const plan = planOf(this.notebook, due.day).shed.answer.peek()
    const planned = this.manages() ? undefined : plan?.lines.find(({ line }) => line === due.line.id)
    return { due, channel: channelOf(this.notebook.farm.peek().sales, due.buyer), kept: planned?.kept ?? [] }
  }

  private next(tally: Tally, due: DueLine): NextBunch {
    const plan = planOf(this.notebook, due.day).shed.answer.peek()
    const now = tally.now(due.day)
    const line = now.lines.find((one) => one.line.id === due.line.id) ?? due
    const overruled = this.overruled.has(due.line.id)
    const drawing = { ...this.fillingOf(line), lots: now.lots, plan, meant: now.meant(plan), overruled }
    const held = overruled ? undefined : this.held(line, () => drawBunches(drawing, openOf(line)).length)
    return { stems: drawBunch(drawing), held }
  }

  private held({ line, day, packed }: DueLine, canBe: () => number): Held | undefined {
    const { pinned, refused } = planOf(this.notebook, day).wishes()
    if (refused.has(line.id)) return 'refused'
    if (packed.bunches >= (pinned.get(line.id) ?? Infinity)) return 'pinned'
    return line.whole && canBe() < line.bunches - packed.bunches ? 'whole' : undefined
  }

  private keptFrom(due: DueLine, stems: ReadonlyMap<string, number>): 'kept' | undefined {
    const filling = this.fillingOf(due)
    const some = [...stems].some(([cell, n]) => {
      const id = parseLotCell(cell)
      return n > 0 && id !== undefined && keptBack({ id }, filling)
    })
    return some ? 'kept' : undefined
  }

  private manages(): boolean {
    return mayManage(this.notebook.member.peek())
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
    this.begin()
    try {
      await this.line.push(step)
      this.failure.value = undefined
      return true
    } catch (reason) {
      this.failure.value = { reason, line }
      return false
    } finally {
      this.end()
      this.show()
    }
  }

  private begin(): void {
    this.underWay++
    clearTimeout(this.quiet)
    this.tapping.value = true
  }

  private end(): void {
    this.underWay--
    clearTimeout(this.quiet)
    this.quiet = setTimeout(() => { this.tapping.value = this.underWay > 0 }, afterATap)
  }

  /** Another page may have taken a bunch back since. */
  show(): void {
    this.bunches.value = packedBunches(this.notebook)
  }
}

function openOf({ line, packed }: DueLine): number {
  return Math.max(line.bunches - packed.bunches, 0)
}
