// Which stems may go to which promises: the same in every draw, in which only how many there are differs. Days and kinds
// that the same promises take are one pool: no promise tells its stems apart.

import type { FreshLot } from '../crop/fresh_lots'
import { addDays, daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Coming } from './coming'
import { type Demand, takesKind, takesLot } from './demands'

export interface Network {
  /** Of pools; the first is of stems that nobody was promised. */
  readonly pools: number
  readonly demands: number
  /** The pool of each day and kind to come, the kind running quickest, and of each lot; -1 where a day is not counted any more. */
  readonly poolOfCell: Int32Array
  readonly poolOfLot: Int32Array
  /** Edges, each from a demand to a pool that it may take of, by pool. */
  readonly demandOfEdge: Int32Array
  readonly poolOfEdge: Int32Array
  /** The edges of pool p are those from firstOfPool[p] up to firstOfPool[p + 1]. */
  readonly firstOfPool: Int32Array
  /** Of each demand, those first whose stems the fewest others could have. */
  readonly edgesOfDemand: readonly Int32Array[]
}

/** cutFrom is the first day whose stems are still to come; those of before lie in the cooler. */
export function networkOf(coming: Coming, cutFrom: Day, lots: readonly FreshLot[], demands: readonly Demand[]): Network {
  const pools = new Pools()
  const poolOfCell = new Int32Array(coming.days * coming.kinds.length).fill(-1)
  const accepts = demands.map((demand) => coming.kinds.map((kind) => takesKind(demand, kind)))
  for (let day = Math.max(0, daysBetween(coming.first, cutFrom)); day < coming.days; day++) {
    const date = addDays(coming.first, day)
    const waiting = [...demands.keys()].filter((i) => demands[i]!.from <= date && date <= demands[i]!.to)
    coming.kinds.forEach((_, kind) => {
      poolOfCell[day * coming.kinds.length + kind] = pools.of(waiting.filter((i) => accepts[i]![kind]))
    })
  }
  const poolOfLot = Int32Array.from(lots, ({ id }) => pools.of([...demands.keys()].filter((i) => takesLot(demands[i]!, id))))
  return { ...edges(pools.takers, demands.length), poolOfCell, poolOfLot }
}

/** Pools by the demands that may take of them. */
class Pools {
  readonly takers: (readonly number[])[] = [[]]
  private readonly known = new Map<string, number>([['', 0]])

  of(takers: readonly number[]): number {
    const key = takers.join()
    const before = this.known.get(key)
    if (before !== undefined) return before
    this.known.set(key, this.takers.length)
    this.takers.push(takers)
    return this.takers.length - 1
  }
}

function edges(takers: readonly (readonly number[])[], demands: number): Omit<Network, 'poolOfCell' | 'poolOfLot'> {
  const all = takers.flatMap((some, pool) => some.map((demand) => ({ demand, pool })))
  const firstOfPool = new Int32Array(takers.length + 1)
  takers.forEach((some, pool) => { firstOfPool[pool + 1] = firstOfPool[pool]! + some.length })
  const ofDemand: number[][] = Array.from({ length: demands }, () => [])
  all.forEach(({ demand }, edge) => ofDemand[demand]!.push(edge))
  const sharers = (edge: number) => takers[all[edge]!.pool]!.length
  return {
    pools: takers.length, demands,
    demandOfEdge: Int32Array.from(all, ({ demand }) => demand), poolOfEdge: Int32Array.from(all, ({ pool }) => pool), firstOfPool,
    edgesOfDemand: ofDemand.map((some) => Int32Array.from(some.sort((a, b) => sharers(a) - sharers(b)))),
  }
}
