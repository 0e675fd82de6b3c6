// Stems to come of one pool: of one kind, on days of one week that follow one another. Told by where their numbers stand in a
// draw, they are the same for all draws.

import type { Coming } from './coming'
import { cutBy } from './draws'

/** One run at each index. */
export interface Runs {
  readonly pool: Int32Array
  /** Where the week's stems of the kind stand in a draw. */
  readonly stems: Int32Array
  /** Where it stands what part of them is cut before the run, -1 for none, and by its end. */
  readonly before: Int32Array
  readonly until: Int32Array
}

/** The runs of some kinds on the days from one to another, both included, counted from the first; days of pool -1 are left out. */
export function runsOf(coming: Coming, poolOfCell: Int32Array, kinds: readonly number[], from: number, to: number): Runs {
  const [pool, stems, before, until]: [number[], number[], number[], number[]] = [[], [], [], []]
  const last = Math.min(to, coming.days - 1)
  for (const kind of kinds) {
    const poolOn = (day: number) => poolOfCell[day * coming.kinds.length + kind]!
    for (let day = Math.max(0, from); day <= last; day++) {
      const begun = day
      while (day < last && (day + 1) % 7 !== 0 && poolOn(day + 1) === poolOn(begun)) day++
      if (poolOn(begun) < 0) continue
      const week = coming.begin + Math.floor(day / 7)
      pool.push(poolOn(begun))
      stems.push(week * coming.ofWeek + coming.places[kind]!)
      before.push(begun % 7 === 0 ? -1 : week * 7 + (begun % 7) - 1)
      until.push(week * 7 + (day % 7))
    }
  }
  return { pool: Int32Array.from(pool), stems: Int32Array.from(stems), before: Int32Array.from(before), until: Int32Array.from(until) }
}

/** Adds the stems that a draw brings to their pools: a plain loop, as this is what an ask takes longest for. */
export function addRuns({ draws, ofWeek }: Coming, draw: number, { pool, stems, before, until }: Runs, to: Int32Array): void {
  const ofStems = draw * draws.weeks.length * ofWeek
  const ofDays = draw * draws.weeks.length * 7
  for (let i = 0; i < pool.length; i++) {
    const place = ofStems + stems[i]!
    const n = draws.stems[place]!
    if (n === 0) continue
    const cut = before[i]! < 0 ? 0 : cutBy(n, draws.days[ofDays + before[i]!]!, place)
    to[pool[i]!] = to[pool[i]!]! + cutBy(n, draws.days[ofDays + until[i]!]!, place) - cut
  }
}
