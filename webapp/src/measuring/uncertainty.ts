// How far a colour that was measured may be from the true one, as one number.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'

/**
 * The root mean square of the CIEDE2000 from a colour to one that is off by a standard uncertainty, component by
 * component: what the eye would see of it. Where the components err together it is off by their rotation alone.
 */
export function uncertaintyOf(lab: Lab, se: Lab): number {
  const off: readonly Lab[] = [{ ...lab, L: lab.L + se.L }, { ...lab, a: lab.a + se.a }, { ...lab, b: lab.b + se.b }]
  return Math.sqrt(off.reduce((sum, one) => sum + difference(lab, one).total ** 2, 0))
}

export type Sureness = 'good' | 'fair' | 'poor'

/** About 1 can just be seen; a plant that drifts at all drifts by some units. */
export function surenessOf(uncertainty: number): Sureness {
  if (uncertainty <= 1.5) return 'good'
  return uncertainty < 3 ? 'fair' : 'poor'
}
