// How far along its lines a bed is drawn. One slip in a number (9,999 in place of 9) must not shrink all that
// stands in the bed to a speck, nor be lost: what lies beyond the reach is told beside the drawing.

import type { Millimetres } from './nouns'

/** Plants for cutting stand no closer than this along a line: common practice, no source. */
const closest = 50 as Millimetres
/** In a bed of unknown length a number is too far out beyond so many times the one before it and so many places more. */
const timesAsFar = 3
const emptyPlaces = 100

/** The highest of some numbers along a bed's lines that is drawn; length 0 is not known. Where none lies within the bed, all are drawn. */
export function reachOf(numbers: Iterable<number>, length: number): number {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b)
  const most = sorted.at(-1) ?? 0
  if (length > 0) return sorted.findLast((number) => number * closest <= length) ?? most
  const end = sorted.findIndex((number, i) => i > 0 && number > timesAsFar * (sorted[i - 1] ?? 0) + emptyPlaces)
  return end < 0 ? most : sorted[end - 1] ?? most
}
