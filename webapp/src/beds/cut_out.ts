// Which part of a photo shows a head: a square around it, as a style sheet places the whole photo behind a square window.

import type { HeadBox } from '../crop/nouns'

/** In percent of the window's side: how wide the photo is drawn, and where its upper left corner lies. */
export interface CutOut {
  readonly width: number
  readonly left: number
  readonly top: number
}

/** How much larger than the head the square is: its edge is seen against what lies behind. */
const margin = 1.12

/**
 * Undefined where the box holds nothing. The square stays within the photo where the photo is large enough: it moves
 * aside at an edge, and lies about the middle of a side that is shorter than it.
 */
export function cutOut(head: HeadBox, photo: { readonly width: number; readonly height: number }): CutOut | undefined {
  const side = margin * Math.max(head.width * photo.width, head.height * photo.height)
  if (!(side > 0)) return undefined
  const start = (from: number, length: number, whole: number) => {
    const wanted = (from + length / 2) * whole - side / 2
    return whole < side ? (whole - side) / 2 : Math.min(Math.max(wanted, 0), whole - side)
  }
  const percent = (pixels: number) => (100 * pixels) / side
  return { width: percent(photo.width), left: -percent(start(head.x, head.width, photo.width)), top: -percent(start(head.y, head.height, photo.height)) }
}
