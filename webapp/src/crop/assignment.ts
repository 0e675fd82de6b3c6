// Whole stems of several supplies given to several demands: as many as can be, in the order in which the demands
// are served. A maximal flow by augmenting paths (Ford and Fulkerson 1956), so that a stem which only one demand may
// have is never given to another that could do without it. What a demand was given it keeps: later ones only change
// of which supply it is.

export class Assignment {
  readonly left: number[]
  /** What each demand still lacks. */
  readonly lacks: number[]
  private readonly given: number[][]
  private readonly allowed: number[][]
  /** The demands that were given any of a supply. */
  private readonly holders: Set<number>[]
  /** Demands from which no supply with anything left can be reached; none of them is looked at again until more is allowed. */
  private readonly dead = new Set<number>()

  constructor(supply: readonly number[], demand: readonly number[]) {
    this.left = [...supply]
    this.lacks = [...demand]
    this.given = demand.map(() => [])
    this.allowed = demand.map(() => [])
    this.holders = supply.map(() => new Set())
  }

  /** Lets a demand be served by supplies, those named first preferred where a choice is open. */
  allow(demand: number, supplies: readonly number[]): void {
    const known = new Set(this.allowed[demand])
    this.allowed[demand]!.push(...supplies.filter((one) => !known.has(one)))
    this.dead.clear()
  }

  /** Gives a demand what can be given without taking from what others were given. */
  serve(demand: number): void {
    while (this.lacks[demand]! > 0 && !this.dead.has(demand)) {
      const path = this.pathFrom(demand)
      if (!path) return
      this.augment(path)
    }
  }

  /** Stems of a supply that a demand was given. */
  of(demand: number, supply: number): number {
    return this.given[demand]?.[supply] ?? 0
  }

  /** The shortest way to a supply with something left: demand, supply, demand that gives it up, supply, … */
  private pathFrom(demand: number): number[] | undefined {
    const cameFrom = new Map<number, { readonly supply: number; readonly demand: number }>()
    const seen = new Set<number>([demand])
    const reached = new Set<number>()
    const queue = [demand]
    for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
      for (const supply of this.allowed[at]!) {
        if (reached.has(supply)) continue
        reached.add(supply)
        if (this.left[supply]! > 0) return wayBack(cameFrom, at, supply)
        for (const other of this.holders[supply]!) {
          if (seen.has(other) || this.dead.has(other)) continue
          seen.add(other)
          cameFrom.set(other, { supply, demand: at })
          queue.push(other)
        }
      }
    }
    for (const one of seen) this.dead.add(one)
    return undefined
  }

  private augment(path: readonly number[]): void {
    const first = path[0]!
    let most = Math.min(this.lacks[first]!, this.left[path.at(-1)!]!)
    for (let i = 2; i < path.length; i += 2) most = Math.min(most, this.of(path[i]!, path[i - 1]!))
    for (let i = 0; i < path.length; i += 2) {
      const [demand, supply, next] = [path[i]!, path[i + 1]!, path[i + 2]]
      this.give(demand, supply, most)
      if (next !== undefined) this.give(next, supply, -most)
    }
    this.lacks[first]! -= most
    this.left[path.at(-1)!]! -= most
  }

  private give(demand: number, supply: number, stems: number): void {
    const given = this.of(demand, supply) + stems
    this.given[demand]![supply] = given
    if (given > 0) this.holders[supply]!.add(demand)
    else this.holders[supply]!.delete(demand)
  }
}

function wayBack(cameFrom: ReadonlyMap<number, { readonly supply: number; readonly demand: number }>, demand: number, supply: number): number[] {
  const path = [demand, supply]
  for (let step = cameFrom.get(demand); step; step = cameFrom.get(step.demand)) path.unshift(step.demand, step.supply)
  return path
}
