// A photo made small enough to look at whole: the mean light of squares of its pixels.

import { decoded } from '../colour/rgb'
import type { Photo } from './measurement'

export interface Picture {
  readonly width: number
  readonly height: number
  /** How many of the photo's pixels a side of one of these is; what is left at its right and lower edge is not looked at. */
  readonly step: number
  /** Red, green and blue in linear light of the photo's space, 0 to 1, by rows. */
  readonly light: Float32Array
  /** Which channels are at their end in the square's middle pixel, so that shares of many are those of the photo's: 1, 2, 4 for the upper end of red, green, blue; 8, 16, 32 for the lower. */
  readonly ends: Uint8Array
}

/** A channel's values that are taken for its end: JPEG leaves what was burnt out some steps below it. */
export const upperEnd = 253
export const lowerEnd = 1

/** The light of each 8-bit value: IEC 61966-2-1, the curve of Display P3 too. */
export const lightOf: Float32Array = Float32Array.from({ length: 256 }, (_, value) => decoded(value / 255))

const endsOf = (channel: number) => Uint8Array.from({ length: 256 }, (_, value) => (value >= upperEnd ? 1 << channel : value <= lowerEnd ? 8 << channel : 0))
const [redEnds, greenEnds, blueEnds] = [endsOf(0), endsOf(1), endsOf(2)]

/** The picture whose long side is not far above `side` pixels, where the photo's is larger. */
export function pictureOf(photo: Photo, side: number): Picture {
  const step = Math.max(1, Math.floor(Math.max(photo.width, photo.height) / side))
  const width = Math.floor(photo.width / step)
  const height = Math.floor(photo.height / step)
  const light = new Float32Array(3 * width * height)
  const ends = new Uint8Array(width * height)
  for (let y = 0; y < height; y++) {
    const to = y * width
    for (let row = y * step; row < (y + 1) * step; row++) addRow(photo, row, step, light.subarray(3 * to, 3 * (to + width)))
    markEnds(photo, y * step + (step >> 1), step, ends.subarray(to, to + width))
  }
  const share = 1 / (step * step)
  if (step > 1) for (let i = 0; i < light.length; i++) light[i]! *= share
  return { width, height, step, light, ends }
}

/** Adds a row of the photo to the squares that it goes through. Plain loops: all pixels of the photo come by here. */
function addRow({ data, width }: Photo, row: number, step: number, light: Float32Array): void {
  let at = 4 * row * width
  for (let k = 0; k < light.length; k += 3) {
    let red = 0
    let green = 0
    let blue = 0
    for (let column = 0; column < step; column++, at += 4) {
      red += lightOf[data[at]!]!
      green += lightOf[data[at + 1]!]!
      blue += lightOf[data[at + 2]!]!
    }
    light[k]! += red
    light[k + 1]! += green
    light[k + 2]! += blue
  }
}

function markEnds({ data, width }: Photo, row: number, step: number, ends: Uint8Array): void {
  let at = 4 * (row * width + (step >> 1))
  for (let x = 0; x < ends.length; x++, at += 4 * step) ends[x] = redEnds[data[at]!]! | greenEnds[data[at + 1]!]! | blueEnds[data[at + 2]!]!
}

/** The same, half as wide and high. */
export function halved(picture: Picture): Picture {
  const width = picture.width >> 1
  const height = picture.height >> 1
  const light = new Float32Array(3 * width * height)
  const ends = new Uint8Array(width * height)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = 2 * y * picture.width + 2 * x
      const below = from + picture.width
      const to = y * width + x
      for (let c = 0; c < 3; c++) {
        light[3 * to + c] = 0.25 * (picture.light[3 * from + c]! + picture.light[3 * from + 3 + c]! + picture.light[3 * below + c]! + picture.light[3 * below + 3 + c]!)
      }
      ends[to] = picture.ends[below + 1]!
    }
  }
  return { width, height, step: 2 * picture.step, light, ends }
}
