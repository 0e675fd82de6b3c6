// A small shed for tests of the session: it follows PROTOCOL.md from memory, with frames so small
// that every catch-up has several. Its conversations are in shed_line.ts.

import { canonical } from '../../log/canonical'
import { chainAfter, chainStart } from '../../log/chain'
import type { Change, Stamp } from '../../log/change'
import { noStamp, orderFor } from '../../log/clock'
import { factsOf, firstIdentity } from '../../log/identity'
import { compareStamps } from '../../log/order'
import { State } from '../../log/state'
import type { ShedLine } from './shed_line'

export interface Kept {
  readonly change: Change
  readonly order: Stamp
}

type Fate = { readonly order: Stamp } | { readonly held: true } | { readonly code: string }

/** A change that was settled, as the shed's disk has it. */
interface Settled {
  readonly change: Change
  readonly fate: Fate
}

export class ShedModel {
  readonly kept: Kept[] = []
  readonly lines = new Set<ShedLine>()
  /** Refuses every hello, and every push. */
  busy = false
  busyForPushes = false
  /** Refuses every hello with this code: the device has not joined, or was withdrawn. */
  barred: 'join' | 'withdrawn' | undefined
  versions: readonly number[] = [1]
  /** Makes the shed refuse a change of its liking. */
  refuses: (change: Change) => string | undefined = () => undefined
  /** How many changes each push held that came. */
  readonly pushes: number[] = []
  /** Of how many changes a welcome tells at most what became of them. */
  mostTold = Infinity
  hellos = 0
  backedUp = 0
  private opened = 1
  /** Parts of large operations, put aside by incarnation. */
  readonly aside = new Map<string, Change[]>()
  /** Every opening of its database, and how many changes it held then. */
  private lives = [{ life: 'life 1', after: 0 }]
  private journal: Settled[] = []
  private readonly pasts = new Map<string, Settled[]>()
  private highest = noStamp

  constructor(
    readonly farm: string,
    public epoch: string,
    public wall: number,
  ) {}

  state(): State {
    const state = new State()
    for (const { change, order } of this.kept) state.merge(change, order)
    return state
  }

  /** Goes back to a backup that held whole operations, with so many changes at least, as a new database. */
  restore(arrival: number, epoch: string): void {
    const journal = this.journal
    this.journal = []
    this.kept.length = 0
    this.pasts.clear()
    this.aside.clear()
    this.highest = noStamp
    this.epoch = epoch
    this.backedUp = 0
    for (const { change, fate } of journal) {
      const midOperation = (this.journal.at(-1)?.change.rest ?? 0) > 0
      if (this.kept.length >= arrival && !midOperation) break
      this.settle(change, fate)
    }
    const after = this.kept.length
    this.lives = [...this.lives.filter(life => life.after <= after), { life: `life ${++this.opened}`, after }]
    for (const line of [...this.lines]) line.cut()
  }

  /** A backup was made of all that it holds, or `arrival` says of how much. */
  backUp(arrival = this.kept.length): void {
    this.backedUp = arrival
    for (const line of this.lines) line.tellBackup()
  }

  get life(): string {
    return this.lives.at(-1)!.life
  }

  /** Tells whether its log was the beginning of this one when it had come to `own`: an arrival number and a life. */
  wasHere(own: string): boolean {
    const [arrival, life] = own.split('/')
    const at = this.lives.findIndex(one => one.life === life)
    return own === '' || (at >= 0 && Number(arrival) <= (this.lives[at + 1]?.after ?? Infinity))
  }

  pastOf(incarnation: string): Settled[] {
    let past = this.pasts.get(incarnation)
    if (!past) this.pasts.set(incarnation, (past = []))
    return past
  }

  hashOf(incarnation: string, andAside: readonly Change[] = []): string {
    const texts = [...this.pastOf(incarnation).map(({ change }) => change), ...andAside].map(canonical)
    return chainAfter(chainStart(this.farm, incarnation), texts)
  }

  /** What became of the changes above `from`, up to `to`: those kept under their stamp are not named. */
  outcome(incarnation: string, from: number, to = Infinity) {
    const orders: [number, number, number][] = []
    const held: number[] = []
    const refused: { seq: number; code: string; text: string }[] = []
    for (const { change: { seq, stamp }, fate } of this.pastOf(incarnation).slice(from, to)) {
      if ('held' in fate) held.push(seq)
      else if ('code' in fate) refused.push({ seq, code: fate.code, text: '' })
      else if (compareStamps(fate.order, stamp) !== 0) orders.push([seq, fate.order.l, fate.order.c])
    }
    return { orders, held, refused }
  }

  /** Takes an operation in, with the orders that were told. */
  operation(changes: readonly Change[], told: readonly (Stamp | null)[] = []): void {
    const codes = changes.map(this.refuses)
    const together = codes.some(code => code !== undefined)
    const before = this.highest // an operation's changes share one order
    changes.forEach((change, i) => {
      if (together) this.settle(change, { code: codes[i] ?? 'operation' })
      else if (this.holds(change)) this.settle(change, { held: true })
      else this.settle(change, { order: told[i] ?? orderFor(change.stamp, this.wall, before) })
    })
  }

  private settle(change: Change, fate: Fate): void {
    this.pastOf(change.incarnation).push({ change, fate })
    this.journal.push({ change, fate })
    if (!('order' in fate)) return
    this.kept.push({ change, order: fate.order })
    if (compareStamps(fate.order, this.highest) > 0) this.highest = fate.order
  }

  /** One that was first framed as the same, or was sent again already, and says the same is kept. */
  private holds(change: Change): boolean {
    const first = firstIdentity(change)
    return this.kept.some(k => firstIdentity(k.change) === first && factsOf(k.change) === factsOf(change))
  }
}
