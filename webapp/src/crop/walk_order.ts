// The order in which a bed is walked.

import type { Plant } from './nouns'

/** Up one line and down the next; plants without a known place come last, by code. */
export function inWalkOrder(plants: readonly Plant[]): Plant[] {
  return [...plants].sort(
    (a, b) =>
      Number(a.line === 0) - Number(b.line === 0) ||
      a.line - b.line ||
      (a.line % 2 === 1 ? a.number - b.number : b.number - a.number) ||
      (a.code < b.code ? -1 : a.code > b.code ? 1 : 0),
  )
}
