// Parts of a picture, made smaller still and calibrated: what a head is looked for in.

import type { Calibration } from './calibration'
import type { Picture } from './picture'

/** In whole pixels of the picture; right and bottom are the first that lie outside. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export interface LabImage {
  readonly width: number
  readonly height: number
  /** Where in the photo its upper left corner is, and how many pixels of the photo a side of its own is. */
  readonly left: number
  readonly top: number
  readonly step: number
  /** L, a and b of each pixel, by rows. */
  readonly lab: Float32Array
}

/**
 * The mean light of by times by pixels each, of every other row and column where they are many. What is left over at
 * the right and at the bottom is not seen.
 */
export function reduced(picture: Picture, box: Box, by: number, calibration: Calibration): LabImage {
  const width = Math.floor((box.right - box.left) / by)
  const height = Math.floor((box.bottom - box.top) / by)
  const [left, top, step] = [box.left * picture.step, box.top * picture.step, by * picture.step]
  const lab = new Float32Array(3 * width * height)
  const sums = new Float32Array(3 * width)
  const every = by < 4 ? 1 : 2
  const share = 1 / Math.ceil(by / every) ** 2
  for (let y = 0; y < height; y++) {
    sums.fill(0)
    for (let row = 0; row < by; row += every) addRow(picture, box.left, box.top + y * by + row, by, every, sums)
    for (let x = 0; x < width; x++) {
      const k = 3 * x
      calibration.lab(sums[k]! * share, sums[k + 1]! * share, sums[k + 2]! * share, left + (x + 0.5) * step, top + (y + 0.5) * step, lab, 3 * (y * width + x))
    }
  }
  return { width, height, left, top, step, lab }
}

function addRow({ light, width }: Picture, left: number, y: number, by: number, every: number, sums: Float32Array): void {
  let start = 3 * (y * width + left)
  for (let k = 0; k < sums.length; k += 3, start += 3 * by) {
    let [r, g, b] = [0, 0, 0]
    for (let at = start; at < start + 3 * by; at += 3 * every) {
      r += light[at]!
      g += light[at + 1]!
      b += light[at + 2]!
    }
    sums[k]! += r
    sums[k + 1]! += g
    sums[k + 2]! += b
  }
}
