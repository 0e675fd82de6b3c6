// When orders for a day close. Mirrors Cutoff of internal/selling/due.go.

import { addDays } from './day'
import type { Day } from './nouns'
import type { Channel } from './sale_nouns'

/** The moment after which an order for a day comes too late, in ms since 1970; undefined where the channel names none. */
export function cutoff(channel: Pick<Channel, 'cutoffDays' | 'cutoffTime'>, due: Day): number | undefined {
  if (channel.cutoffDays === 0 && channel.cutoffTime === '') return undefined
  const at = new Date(`${addDays(due, -channel.cutoffDays)}T${channel.cutoffTime || '23:59'}:00`).getTime()
  return Number.isNaN(at) ? undefined : at
}
