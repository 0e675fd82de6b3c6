// Per which plant a number of stems is said: one that stood, one that was set out, or one that was cut from.

import type { Season } from '../crop/nouns'
import type { Age, Interval, SeasonStems, Survival } from './ages_report'

export const pers = ['alive', 'set_out', 'cut_from'] as const
export type Per = (typeof pers)[number]

/** What the mean over living plants is multiplied by to be said per another. */
export interface Share {
  /** undefined where the records do not tell. */
  readonly factor: number | undefined
  /** The plants by which is divided. */
  readonly plants: number
}

const untold: Share = { factor: undefined, plants: 0 }

/** The share for all seasons of an age. */
export function shareOf(age: Age, survival: Survival | undefined, per: Per): Share {
  if (per === 'alive') return { factor: 1, plants: age.alive }
  if (per === 'cut_from') return ratio(age.plant_seasons, age.cut_from)
  const own = ratio(age.alive, age.set_out)
  const seasons = age.seasons ?? []
  if (own.factor === undefined) {
    const standing = setOutIn(age.age, survival, () => true)
    return ratio(standing.atStart, standing.setOut)
  }
  // The model's own plantings; only where one of them died wholly are there more in what survival counts.
  const counted = setOutIn(age.age, survival, (season) => seasons.some((one) => one.season === season))
  if (counted.setOut <= age.set_out) return own
  const finished = seasons.filter(({ season }) => !runs(age.age, survival, season))
  if (finished.length === 0) return own
  const over = setOutIn(age.age, survival, (season) => finished.some((one) => one.season === season))
  return ratio(finished.reduce((sum, one) => sum + one.alive, 0), over.setOut)
}

/** The share for one season of an age. */
export function shareIn(age: Age, survival: Survival | undefined, { season, alive }: SeasonStems, per: Per): Share {
  if (per === 'alive') return { factor: 1, plants: alive }
  if (per === 'set_out') return ratio(alive, setOutIn(age.age, survival, (other) => other === season).setOut)
  const counted = age.plants.filter((dot) => dot.season === season && !dot.open)
  return ratio(counted.length, counted.filter((dot) => dot.stems > 0).length)
}

export function scaled({ mean, lo, hi }: Interval, factor: number): Interval {
  return { mean: mean * factor, lo: lo * factor, hi: hi * factor }
}

function ratio(part: number, plants: number): Share {
  return plants > 0 && part > 0 ? { factor: part / plants, plants } : untold
}

function setOutIn(age: number, survival: Survival | undefined, of: (season: Season) => boolean): { setOut: number; atStart: number } {
  const rows = survival?.denominators.filter((row) => row.age === age && of(row.season)) ?? []
  return { setOut: rows.reduce((sum, row) => sum + row.set_out, 0), atStart: rows.reduce((sum, row) => sum + row.at_start, 0) }
}

function runs(age: number, survival: Survival | undefined, season: Season): boolean {
  return survival?.denominators.some((row) => row.age === age && row.season === season && row.running) ?? false
}
