// A colour that was measured, with what is not known of it: how far others lie from it and how surely, and what the
// readings of a plant come to by themselves.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'
import type { Farm, PlantID, Reading, Season } from './nouns'
import { seasonOf } from './season'

/** A covariance of L*, a* and b*. */
export interface Cov {
  readonly LL: number
  readonly La: number
  readonly Lb: number
  readonly aa: number
  readonly ab: number
  readonly bb: number
}

export interface MeasuredColour {
  readonly lab: Lab
  readonly cov: Cov
}

/** A distance in CIEDE2000 and its standard error. */
export interface Distance {
  readonly away: number
  readonly se: number
}

/** How far a measured colour lies from one that is given: an aim, or what a class is said to be. */
export function distance(from: Lab, { lab, cov }: MeasuredColour): Distance {
  const away = difference(from, lab).total
  if (away < step) return { away, se: Math.sqrt(meanWithin(cov, lab)) }
  return { away, se: Math.sqrt(Math.max(0, within(cov, slopeOf(from, lab)))) }
}

/** Small beside what can be seen and large beside the last digits. */
const step = 1e-3

/** How the distance grows with L*, a* and b*. */
function slopeOf(from: Lab, { L, a, b }: Lab): Lab {
  const along = (to: (by: number) => Lab) => (difference(from, to(step)).total - difference(from, to(-step)).total) / (2 * step)
  return { L: along((by) => ({ L: L + by, a, b })), a: along((by) => ({ L, a: a + by, b })), b: along((by) => ({ L, a, b: b + by })) }
}

/** The variance along a direction of a mean size: of two colours that are the same, no line leads from one to the other. */
function meanWithin({ LL, aa, bb }: Cov, lab: Lab): number {
  const along = (to: Lab) => (difference(lab, to).total / step) ** 2
  return (LL * along({ ...lab, L: lab.L + step }) + aa * along({ ...lab, a: lab.a + step }) + bb * along({ ...lab, b: lab.b + step })) / 3
}

function within({ LL, La, Lb, aa, ab, bb }: Cov, { L, a, b }: Lab): number {
  return LL * L * L + aa * a * a + bb * b * b + 2 * (La * L * a + Lb * L * b + ab * a * b)
}

/**
 * What photos of a plant in a season leave untold of its colour, as a standard deviation of each component: what its
 * days and its heads differ by, and what light and camera did that day. Photos of one day share most of it. As the
 * shed's model has it before it has seen a farm, rounded up; no source.
 */
const shared = 2

/**
 * A plant's colour in a season by its readings alone: of full bloom and not in sun, each weighed by its uncertainty.
 * For as long as the shed has not worked it out; undefined where none can be used.
 */
export function colourFromReadings(farm: Pick<Farm, 'readings' | 'readingsOf' | 'calendar'>, plant: PlantID, season: Season): MeasuredColour | undefined {
  const used = [...(farm.readingsOf.get(plant) ?? [])].flatMap((id) => {
    const reading = farm.readings.get(id)
    return reading && fits(reading) && seasonOf(farm.calendar, reading.date) === season ? [reading] : []
  })
  if (used.length === 0) return undefined
  const [L, a, b] = (['L', 'a', 'b'] as const).map((part) => weighed(used, part))
  if (!L || !a || !b) return undefined
  return {
    lab: { L: L.mean, a: a.mean, b: b.mean },
    cov: { LL: L.variance, La: 0, Lb: 0, aa: a.variance, ab: 0, bb: b.variance },
  }
}

/** Whether a reading can tell its plant's colour: of full bloom, out of the sun, with an uncertainty. */
export function fits({ stage, light, se }: Reading): boolean {
  return stage === 'full' && light !== 'sun' && Math.min(se.L, se.a, se.b) > 0
}

/** A plant's colour by one reading, with what a photo leaves untold of it. */
export function colourOfReading({ lab, se }: Pick<Reading, 'lab' | 'se'>): MeasuredColour {
  const variance = (one: number) => one ** 2 + shared ** 2
  return { lab, cov: { LL: variance(se.L), La: 0, Lb: 0, aa: variance(se.a), ab: 0, bb: variance(se.b) } }
}

function weighed(readings: readonly Reading[], part: 'L' | 'a' | 'b'): { readonly mean: number; readonly variance: number } {
  const weight = readings.reduce((sum, { se }) => sum + 1 / se[part] ** 2, 0)
  const mean = readings.reduce((sum, { lab, se }) => sum + lab[part] / se[part] ** 2, 0) / weight
  return { mean, variance: 1 / weight + shared ** 2 }
}
