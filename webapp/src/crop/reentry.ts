// While the re-entry interval on the label of a spray runs, nobody is to work in its bed.

import type { BedID, Farm } from './nouns'

export interface KeptOut {
  /** When the last of the intervals ends, in ms since 1970. */
  readonly until: number
  /** With what was sprayed, where that was told, the interval that ends last first. */
  readonly what: readonly string[]
}

/** Until when people are kept out of a bed, and by what; undefined where the bed may be entered. */
export function keptOut(farm: Pick<Farm, 'events'>, bed: BedID, nowMs: number): KeptOut | undefined {
  const running = [...farm.events.values()].filter((event) => event.bed === bed && event.until > nowMs)
  running.sort((a, b) => b.until - a.until)
  const last = running[0]
  if (!last) return undefined
  return { until: last.until, what: [...new Set(running.map(({ what }) => what).filter((what) => what !== ''))] }
}
