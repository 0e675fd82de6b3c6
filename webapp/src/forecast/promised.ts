// What may still be promised: in every draw the promises are served first, one after the other, and an ask may have what it
// can take without any of them getting less. So no stem is promised twice, and the same draw is the same future for all.

import type { FreshLot } from '../crop/fresh_lots'
import { daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Coming } from './coming'
import { type Demand, takesKind, takesLot, type Wish } from './demands'
import { networkOf, type Network } from './network'
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
  readonly cells: Cells
  readonly lots: readonly number[]
  /** Of both, each once. */
  readonly pools: Int32Array
}

/** Days and kinds to come, each with its pool. */
interface Cells {
  readonly at: Int32Array
  readonly pool: Int32Array
}

export class Promised {
  private readonly gotten: Int32Array
  private served = 0
  private readonly net: Network
  private readonly serving: Serving
  private readonly left: Int32Array
  private readonly given: Int32Array
  private readonly all: Cells

  /** Demands are served in their order. */
  constructor(private readonly supply: Supply, readonly demands: readonly Demand[]) {
    const { coming, cutFrom, lots } = supply
    this.net = networkOf(coming, cutFrom, lots, demands)
    this.serving = new Serving(this.net)
    this.all = this.cellsAt([...this.net.poolOfCell.keys()])
    this.gotten = new Int32Array(coming.n * demands.length)
    this.left = new Int32Array(coming.n * this.net.pools)
    this.given = new Int32Array(coming.n * this.net.demandOfEdge.length)
  }

  /** Serves the demands of so many draws more, and tells whether all are served: an ask waits until they are. */
  serveSome(draws: number): boolean {
    const until = Math.min(this.supply.coming.n, this.served + draws)
    while (this.served < until) this.serveDraw(this.served++)
    return this.served === this.supply.coming.n
  }

  /** Stems that each demand gets, by draw and demand. */
  get got(): Int32Array {
    this.serveSome(Infinity)
    return this.gotten
  }

  /** Stems that a wish could have, by draw. */
  most(wish: Wish): Int32Array {
    this.serveSome(Infinity)
    const { cells, lots, pools } = this.placesOf(wish)
    const of = new Int32Array(this.net.pools)
    const most = new Int32Array(this.supply.coming.n)
    for (let draw = 0; draw < most.length; draw++) {
      for (let i = 0; i < pools.length; i++) of[pools[i]!] = 0
      this.addCells(draw, cells, of)
      this.addLots(lots, of)
      this.recall(draw)
      most[draw] = this.serving.most(pools, of)
    }
    return most
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
    this.addCells(draw, this.all, left)
    this.addLots([...this.supply.lots.keys()], left)
    this.demands.forEach(({ stems }, i) => { this.gotten[draw * this.demands.length + i] = this.serving.serve(i, stems) })
    this.left.set(left, draw * left.length)
    this.given.set(given, draw * given.length)
  }

  private recall(draw: number): void {
    const { left, given } = this.serving
    left.set(this.left.subarray(draw * left.length, (draw + 1) * left.length))
    given.set(this.given.subarray(draw * given.length, (draw + 1) * given.length))
  }

  /** Adds the stems that a draw brings to their pools: plain loops, as this is what an ask takes longest for. */
  private addCells(draw: number, { at, pool }: Cells, to: Int32Array): void {
    const { days, kinds, stems } = this.supply.coming
    const before = draw * days * kinds.length
    for (let i = 0; i < at.length; i++) to[pool[i]!] = to[pool[i]!]! + stems[before + at[i]!]!
  }

  private addLots(which: readonly number[], to: Int32Array): void {
    for (const i of which) {
      const pool = this.net.poolOfLot[i]!
      to[pool] = to[pool]! + this.supply.lots[i]!.left
    }
  }

  private placesOf(wish: Wish): Places {
    const { coming: { first, days, kinds }, lots } = this.supply
    const taken = [...kinds.keys()].filter((kind) => takesKind(wish, kinds[kind]!))
    const last = Math.min(days - 1, daysBetween(first, wish.to))
    const at: number[] = []
    for (let day = Math.max(0, daysBetween(first, wish.from)); day <= last; day++) {
      for (const kind of taken) at.push(day * kinds.length + kind)
    }
    const cells = this.cellsAt(at)
    const takenLots = [...lots.keys()].filter((i) => takesLot(wish, lots[i]!.id))
    return { cells, lots: takenLots, pools: Int32Array.from(new Set([...cells.pool, ...takenLots.map((i) => this.net.poolOfLot[i]!)])) }
  }

  /** Those that are still to come. */
  private cellsAt(some: readonly number[]): Cells {
    const { poolOfCell } = this.net
    const at = Int32Array.from(some.filter((cell) => poolOfCell[cell]! >= 0))
    return { at, pool: at.map((cell) => poolOfCell[cell]!) }
  }
}
