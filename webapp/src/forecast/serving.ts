// Stems of one draw given to promises: as many as can be, in the order in which they are served. A maximal flow by augmenting
// paths (Ford and Fulkerson 1956), as crop/assignment.ts has it, on flat arrays, since it is asked of hundreds of draws
// at once: what a promise was given it keeps, and later ones only change of which pool it is.

import type { Network } from './network'

export class Serving {
  /** Of each pool. */
  readonly left: Int32Array
  /** By edge. */
  readonly given: Int32Array
  /** How many pools were looked at since it was made: what serving costs, whatever the device. */
  looks = 0
  /** What who is served now may still take of each pool, and took. */
  private readonly may: Int32Array
  private readonly took: Int32Array
  private readonly cameBy: Int32Array
  private readonly poolSeen: Int32Array
  private readonly gaveUp: Int32Array
  private readonly demandSeen: Int32Array
  private readonly queue: Int32Array
  private queued = 0
  private round = 0

  constructor(private readonly net: Network) {
    const ofPools = () => new Int32Array(net.pools)
    const ofDemands = () => new Int32Array(net.demands)
    this.left = ofPools()
    this.given = new Int32Array(net.demandOfEdge.length)
    this.may = ofPools()
    this.took = ofPools()
    this.cameBy = ofPools()
    this.poolSeen = ofPools()
    this.gaveUp = ofDemands()
    this.demandSeen = ofDemands()
    this.queue = ofDemands()
  }

  /** Serves a promise of the network and tells how many of its stems it got. */
  serve(demand: number, stems: number): number {
    const own = this.net.edgesOfDemand[demand]!
    const pools = own.map((edge) => this.net.poolOfEdge[edge]!)
    for (const pool of pools) this.may[pool] = stems
    const got = this.take(pools, stems, demand)
    own.forEach((edge, i) => { this.given[edge] = this.given[edge]! + this.took[pools[i]!]! })
    return got
  }

  /** The most that somebody outside the network could take of pools, of each no more than a number, without any promise getting less. */
  most(pools: Int32Array, of: Int32Array): number {
    for (let i = 0; i < pools.length; i++) this.may[pools[i]!] = of[pools[i]!]!
    return this.take(pools, Number.MAX_SAFE_INTEGER, -1)
  }

  private take(pools: Int32Array, stems: number, self: number): number {
    let got = 0
    for (let i = 0; i < pools.length; i++) {
      const pool = pools[i]!
      const now = Math.min(this.may[pool]!, this.left[pool]!, stems - got)
      this.may[pool] = this.may[pool]! - now
      this.left[pool] = this.left[pool]! - now
      this.took[pool] = now
      got += now
    }
    this.looks += pools.length
    while (got < stems) {
      const more = this.roundabout(pools, stems - got, self)
      if (more === 0) break
      got += more
    }
    return got
  }

  /** Takes of a pool that is used up what some promise can have of another instead. */
  private roundabout(pools: Int32Array, most: number, self: number): number {
    this.round++
    this.queued = 0
    if (self >= 0) this.demandSeen[self] = this.round
    for (let i = 0; i < pools.length; i++) {
      if (this.may[pools[i]!]! > 0) this.reach(pools[i]!, -1)
    }
    for (let at = 0; at < this.queued; at++) {
      const edges = this.net.edgesOfDemand[this.queue[at]!]!
      for (let i = 0; i < edges.length; i++) {
        const edge = edges[i]!
        const pool = this.net.poolOfEdge[edge]!
        this.looks++
        if (this.poolSeen[pool] === this.round) continue
        if (this.left[pool]! > 0) return this.shift(pool, edge, most)
        this.reach(pool, edge)
      }
    }
    return 0
  }

  /** Queues who was given stems of a pool and may do with others. */
  private reach(pool: number, by: number): void {
    const { firstOfPool, demandOfEdge } = this.net
    this.poolSeen[pool] = this.round
    this.cameBy[pool] = by
    for (let edge = firstOfPool[pool]!; edge < firstOfPool[pool + 1]!; edge++) {
      const demand = demandOfEdge[edge]!
      if (this.given[edge]! === 0 || this.demandSeen[demand] === this.round) continue
      this.demandSeen[demand] = this.round
      this.gaveUp[demand] = edge
      this.queue[this.queued++] = demand
    }
  }

  private shift(pool: number, by: number, most: number): number {
    const { demandOfEdge, poolOfEdge } = this.net
    this.cameBy[pool] = by
    let stems = Math.min(most, this.left[pool]!)
    let first = pool
    for (let edge = by; edge >= 0; edge = this.cameBy[first]!) {
      const up = this.gaveUp[demandOfEdge[edge]!]!
      stems = Math.min(stems, this.given[up]!)
      first = poolOfEdge[up]!
    }
    stems = Math.min(stems, this.may[first]!)
    this.left[pool] = this.left[pool]! - stems
    for (let edge = by; edge >= 0;) {
      const up = this.gaveUp[demandOfEdge[edge]!]!
      this.given[edge] = this.given[edge]! + stems
      this.given[up] = this.given[up]! - stems
      edge = this.cameBy[poolOfEdge[up]!]!
    }
    this.may[first] = this.may[first]! - stems
    this.took[first] = this.took[first]! + stems
    return stems
  }
}
