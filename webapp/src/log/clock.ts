// The hybrid logical clock (Kulkarni et al. 2014, "Logical Physical Clocks", figure 5). Its stamps
// strictly grow whatever the wall clock does. Mirrors internal/changelog/clock.go.

import type { Stamp } from './change'
import { compareStamps, maxC, maxL, nextStamp } from './order'

/** Stamps a local event: last is the newest stamp given or seen, wall is ms since 1970 UTC. */
export function tick(last: Stamp, wall: number): Stamp {
  return wall > last.l ? { l: Math.min(wall, maxL), c: 0 } : nextStamp(last)
}

/** Takes note of a remote stamp, so that later local stamps lie above it. */
export function receive(last: Stamp, wall: number, remote: Stamp): Stamp {
  const l = Math.max(last.l, remote.l, Math.min(wall, maxL))
  if (l === last.l && l === remote.l) return nextStamp({ l, c: Math.max(last.c, remote.c) })
  if (l === last.l) return nextStamp(last)
  if (l === remote.l) return nextStamp(remote)
  return { l, c: 0 }
}

const orderSlack = 60_000

/** The order that the shed gives to a change; the phone needs it only to run the shared vectors. */
export function orderFor(stamp: Stamp, wall: number, highest: Stamp): Stamp {
  const slack = { l: wall + orderSlack, c: 0 }
  const past = nextStamp(highest)
  const limit = compareStamps(past, slack) > 0 ? past : slack
  return compareStamps(stamp, limit) > 0 ? limit : stamp
}

export const noStamp: Stamp = { l: 0, c: 0 }
export const highestStamp: Stamp = { l: maxL, c: maxC }
