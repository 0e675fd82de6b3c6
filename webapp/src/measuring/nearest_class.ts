// The colour class that a measured colour lies nearest to.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'
import type { Colour, Farm } from '../crop/nouns'

export interface Nearest {
  readonly colour: Colour
  /** In CIEDE2000. */
  readonly away: number
}

/** Undefined where no class was measured. */
export function nearestClass(farm: Pick<Farm, 'colours'>, lab: Lab): Nearest | undefined {
  const all = [...farm.colours.values()].flatMap((colour) => (colour.lab ? [{ colour, away: difference(colour.lab, lab).total }] : []))
  return all.sort((a, b) => a.away - b.away)[0]
}
