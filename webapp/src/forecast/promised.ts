// What may still be promised: in every draw the promises are served first, one after the other, and an ask may have what it
// can take without any of them getting less. So no stem is promised twice, and the same draw is the same future for all.

import type { FreshLot } from '../crop/fresh_lots'
import { daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Coming } from './coming'
import { type Demand, takesKind, takesLot, type Wish } from './demands'
import { networkOf, type Network } from './network'
import { addRuns, type Runs, runsOf } from './runs'
import { Serving } from './serving'

/** What there is to serve from: the same in every draw but for the stems to come. */
export interface Supply {
  readonly coming: Coming
  /** The first day whose stems are still to come. */
  readonly cutFrom: Day
  /** What lies in the cooler. */
  readonly lots: readonly FreshLot[]
}

/** Where stems lie that a wish may have. */
interface Places {
  readonly runs: Runs
  readonly lots: readonly number[]
  /** Of both, each once. */
  readonly pools: Int32Array
}

const unknown = -1
/** Wishes whose answers are kept: 2 kB each. */
const mostKnown = 1_000

function keyOf({ colours, grade, length, from, to }: Wish): string {
  return [from, to, grade, length, ...colours].join('|')
}

export class Promised {
  private readonly gotten: Int32Array
  private served = 0
  private readonly net: Network
  private readonly serving: Serving
  private readonly left: Int32Array
  private readonly given: Int32Array
  private readonly all: Runs
  private readonly asked = new Map<string, Int32Array>()

  /** Demands are served in their order. */
  constructor(private readonly supply: Supply, readonly demands: readonly Demand[]) {
    const { coming, cutFrom, lots } = supply
    this.net = networkOf(coming, cutFrom, lots, demands)
    this.serving = new Serving(this.net)
    this.all = runsOf(coming, this.net.poolOfCell, [...coming.kinds.keys()], 0, coming.days)
    this.gotten = new Int32Array(coming.draws.n * demands.length)
    this.left = new Int32Array(coming.draws.n * this.net.pools)
    this.given = new Int32Array(coming.draws.n * this.net.demandOfEdge.length)
  }

  /** Serves the demands of so many draws more, and tells whether all are served: an ask waits until they are. */
  serveSome(draws: number): boolean {
    const until = Math.min(this.draws, this.served + draws)
    while (this.served < until) this.serveDraw(this.served++)
    return this.served === this.draws
  }

  get draws(): number {
    return this.supply.coming.draws.n
  }

  /** Stems that each demand gets, by draw and demand. */
  get got(): Int32Array {
    this.serveSome(Infinity)
    return this.gotten
  }

  /** Stems that a wish could have, by draw. */
  most(wish: Wish): Int32Array {
    this.serveSome(Infinity)
    const asked = this.mostOf(wish)
    return Int32Array.from({ length: this.draws }, (_, draw) => asked(draw))
  }

  /**
   * The same of one draw at a time, for who need not know all of them. What was asked once is known from then on: the days of
   * a week, and what would help, ask for much the same.
   */
  asking(wish: Wish): (draw: number) => number {
    this.serveSome(Infinity)
    const key = keyOf(wish)
    if (this.asked.size > mostKnown) this.asked.clear()
    let known = this.asked.get(key)
    if (!known) this.asked.set(key, known = new Int32Array(this.draws).fill(unknown))
    const told = known
    let most: ((draw: number) => number) | undefined // finding its places takes longer than a draw
    return (draw) => {
      if (told[draw] === unknown) told[draw] = (most ??= this.mostOf(wish))(draw)
      return told[draw]!
    }
  }

  /** Asks the draws anew. */
  private mostOf(wish: Wish): (draw: number) => number {
    const { runs, lots, pools } = this.placesOf(wish)
    const of = new Int32Array(this.net.pools)
    return (draw) => {
      for (let i = 0; i < pools.length; i++) of[pools[i]!] = 0
      addRuns(this.supply.coming, draw, runs, of)
      this.addLots(lots, of)
      this.recall(draw)
      return this.serving.most(pools, of)
    }
  }

  /** Gives a demand more stems, after all that was given before, and tells by draw how many of them it got. */
  give(demand: number, stems: number): Int32Array {
    this.serveSome(Infinity)
    this.asked.clear()
    const got = new Int32Array(this.draws)
    for (let draw = 0; draw < got.length; draw++) {
      this.recall(draw)
      got[draw] = this.serving.serve(demand, stems)
      this.keep(draw)
    }
    return got
  }

  /** Keeps what is given by now and returns how to go back to it. */
  mark(): () => void {
    this.serveSome(Infinity)
    const [left, given] = [this.left.slice(), this.given.slice()]
    return () => {
      this.asked.clear()
      this.left.set(left)
      this.given.set(given)
    }
  }

  /** Promises that take of the same stems as a wish. */
  beside(wish: Wish): Demand[] {
    const { firstOfPool, demandOfEdge } = this.net
    const found = new Set<number>()
    for (const pool of this.placesOf(wish).pools) {
      for (let edge = firstOfPool[pool]!; edge < firstOfPool[pool + 1]!; edge++) found.add(demandOfEdge[edge]!)
    }
    return [...found].sort((a, b) => a - b).map((i) => this.demands[i]!)
  }

  /** Pools looked at so far: what it cost, whatever the device. */
  get looks(): number {
    return this.serving.looks
  }

  private serveDraw(draw: number): void {
    const { left, given } = this.serving
    left.fill(0)
    given.fill(0)
    addRuns(this.supply.coming, draw, this.all, left)
    this.addLots([...this.supply.lots.keys()], left)
    this.demands.forEach(({ stems }, i) => { this.gotten[draw * this.demands.length + i] = this.serving.serve(i, stems) })
    this.keep(draw)
  }

  private keep(draw: number): void {
    const { left, given } = this.serving
    this.left.set(left, draw * left.length)
    this.given.set(given, draw * given.length)
  }

  private recall(draw: number): void {
    const { left, given } = this.serving
    left.set(this.left.subarray(draw * left.length, (draw + 1) * left.length))
    given.set(this.given.subarray(draw * given.length, (draw + 1) * given.length))
  }

  private addLots(which: readonly number[], to: Int32Array): void {
    for (const i of which) {
      const pool = this.net.poolOfLot[i]!
      to[pool] = to[pool]! + this.supply.lots[i]!.left
    }
  }

  private placesOf(wish: Wish): Places {
    const { coming, lots } = this.supply
    const { poolOfCell, poolOfLot } = this.net
    const kinds = [...coming.kinds.keys()].filter((kind) => takesKind(wish, coming.kinds[kind]!))
    const runs = runsOf(coming, poolOfCell, kinds, daysBetween(coming.first, wish.from), daysBetween(coming.first, wish.to))
    const taken = [...lots.keys()].filter((i) => takesLot(wish, lots[i]!.id))
    return { runs, lots: taken, pools: Int32Array.from(new Set([...runs.pool, ...taken.map((i) => poolOfLot[i]!)])) }
  }
}
