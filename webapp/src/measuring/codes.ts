// QR codes in a photo: the card's, which measuring asks for, and those of plants' tags that came into the picture.

import { batchOf } from '../colourcard/geometry'
import type { Photo, ReadCodes } from '../colourcard/measurement'
import { outlinedIn } from '../scan/wasm_codes'

/** Asked once the wasm was loaded (scan/wasm_codes.ts). */
export const readCodes: ReadCodes = ({ data, width, height }) => outlinedIn({ data, width, height, colorSpace: 'srgb' } as ImageData)

/** Pixels of the longer side at which tags are looked for: those that somebody meant to have in the picture are read. */
const lookedAt = 1600

/** What the codes in a photo say that are no card's. */
export async function tagsIn(photo: Photo): Promise<string[]> {
  const step = Math.ceil(Math.max(photo.width, photo.height) / lookedAt)
  const found = await readCodes(step <= 1 ? photo : greyBy(photo, step))
  return [...new Set(found.map(({ text }) => text).filter((text) => batchOf(text) === undefined))]
}

/** The photo in greys, each the mean of a square of so many pixels' greens; what is left at the edges is cut. */
export function greyBy({ data, width, height, space }: Photo, step: number): Photo {
  const [across, down] = [Math.floor(width / step), Math.floor(height / step)]
  const grey = new Uint8ClampedArray(4 * across * down)
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      const at = 4 * (y * across + x)
      grey.fill(meanGreen(data, width, x * step, y * step, step), at, at + 3)
      grey[at + 3] = 255
    }
  }
  return { data: grey, width: across, height: down, space }
}

function meanGreen(data: Uint8ClampedArray, width: number, left: number, top: number, step: number): number {
  let sum = 0
  for (let y = top; y < top + step; y++) {
    for (let at = 4 * (y * width + left) + 1, end = at + 4 * step; at < end; at += 4) sum += data[at]!
  }
  return sum / (step * step)
}
