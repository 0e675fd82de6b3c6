// Which of some wishes most is safe of, as an ask for any day of a week is answered. To ask every draw for every day would take a
// phone seven times as long as one day: the likely best is asked first, and the others no further than until they cannot be better.

import type { Wish } from './demands'
import type { Promised } from './promised'

export interface Best {
  /** Its place among the wishes. */
  readonly at: number
  /** Stems that could be had, by draw, ascending. */
  readonly most: Int32Array
}

/** In how many of n draws stems may be missing that are there with at least a chance; below 0 where there are no draws. */
export function mayFail(n: number, chance: number): number {
  // A hair less, or 0.9 of 500 would ask for 451 draws where it is reckoned with parts of two.
  return n - Math.max(1, Math.ceil(n * chance - 1e-9))
}

/** The wish of which most is safe at some odds; of several the first; undefined where there are none. */
export function bestOf(promised: Pick<Promised, 'draws' | 'asking'>, wishes: readonly Wish[], odds: number): Best | undefined {
  const asking = wishes.map((wish) => promised.asking(wish))
  const fail = mayFail(promised.draws, odds)
  let best: Best & { readonly worstFirst: readonly number[] } | undefined
  for (const at of likelyBestFirst(asking, promised.draws, odds)) {
    if (best && isShort(asking[at]!, (best.most[fail] ?? 0) + (at < best.at ? 0 : 1), best.worstFirst, fail)) continue
    const most = Int32Array.from({ length: promised.draws }, (_, draw) => asking[at]!(draw))
    const worstFirst = [...most.keys()].sort((a, b) => most[a]! - most[b]!)
    best = { at, most: most.sort(), worstFirst }
  }
  return best && { at: best.at, most: best.most }
}

type Asking = (draw: number) => number

/** One of so many draws tells which wishes come first: that only saves time. */
const sampled = 50

function likelyBestFirst(asking: readonly Asking[], draws: number, odds: number): number[] {
  const places = [...asking.keys()]
  if (asking.length < 2) return places
  const some = Array.from({ length: Math.ceil(draws / sampled) }, (_, i) => i * sampled)
  const safe = asking.map((most) => some.map(most).sort((a, b) => a - b)[mayFail(some.length, odds)] ?? 0)
  return places.sort((a, b) => safe[b]! - safe[a]!)
}

/** Whether so many stems are missing in more draws than may fail; draws in which the best has least are asked first. */
function isShort(most: Asking, stems: number, draws: readonly number[], fail: number): boolean {
  let failing = 0
  return draws.some((draw) => most(draw) < stems && ++failing > fail)
}
