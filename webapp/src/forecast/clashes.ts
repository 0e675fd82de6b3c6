// Promises that no longer hold as they were told: somebody promised of the same stems without seeing it, or less is to come
// than was thought. What two devices promised apart nobody could know; it shows once each knows of the other.

import { askFacts } from '../crop/ahead_facts'
import type { Ask } from '../crop/ahead_nouns'
import type { Day, Farm } from '../crop/nouns'
import type { Line, LineID } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { keepChance, safeAt } from './asking'
import type { Draws } from './draws'
import { promisesAsTaken } from './open_promises'
import type { Promised } from './promised'

export interface Clash {
  readonly ask: Ask
  readonly line: Line
  readonly due: Day
  /** Not packed yet. */
  readonly stems: number
  /** That all of them can be had, after what was promised before. */
  readonly chance: number
  /** The same when it was promised. */
  readonly told: number
  /** How many can be had at the farm's own odds. */
  readonly safe: number
}

/** By how much a chance must have fallen to be worth a look: less is the forecast's own unrest (this program's choice). */
const fallen = 0.1

/** The line that an ask became: they share their id, so that what was told is found from the line. */
export function lineOfAsk({ id }: Pick<Ask, 'id'>): LineID {
  return id as string as LineID
}

/** Promises given as answers to asks whose chance is under the farm's own odds and well under what was told, those due first. */
export function clashes(farm: Pick<Farm, 'sales' | 'lots' | 'ahead'>, draws: Draws, today: Day): Clash[] {
  if (!anyPromised(farm)) return []
  const promised = promisesAsTaken(farm, draws, today)
  const odds = keepChance(farm.sales.terms)
  return promised.demands.flatMap(({ lines: [id], stems, to }, i): Clash[] => {
    const ask = farm.ahead.asks.get(id as string as Ask['id'])
    const line = farm.sales.lines.get(id!)
    if (!ask || !line || ask.answer !== 'promised' || ask.chance === 0) return []
    const got = gotOf(promised, i)
    const chance = got.filter((n) => n >= stems).length / got.length
    const told = ask.chance / 1000
    return chance < odds && chance < told - fallen ? [{ ask, line, due: to, stems, chance, told, safe: safeAt({ most: got }, odds) }] : []
  })
}

function gotOf({ got, demands }: Promised, demand: number): Int32Array {
  return Int32Array.from({ length: got.length / demands.length }, (_, draw) => got[draw * demands.length + demand]!).sort()
}

/** Whether anything was promised that clashes could be of. */
export function anyPromised({ ahead }: Pick<Farm, 'ahead'>): boolean {
  return [...ahead.asks.values()].some(({ answer }) => answer === 'promised')
}

/** As an ask keeps a chance: per mille, rounded down, and never 0, which is none told. */
export function perMille(chance: number): number {
  return Math.max(1, Math.floor(chance * 1000 + 1e-9))
}

/** That the chance as it stands now is all right: from here on it is what was told. */
export function acceptChance(ask: Ask, chance: number): { readonly facts: readonly Fact[]; readonly undo: readonly Fact[] } {
  return { facts: askFacts(ask.id, { chance: perMille(chance) }), undo: askFacts(ask.id, { chance: ask.chance }) }
}
