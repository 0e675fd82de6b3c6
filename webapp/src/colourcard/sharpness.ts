// How sharp a picture is where it is sharpest: tells a photo that is blurred all over from one that just has no card.

import type { Picture } from './picture'

/** An edge counts whose sides differ by so much of the root of full light: noise does not. */
const leastEdge = 0.12
/** With fewer edges there is nothing to tell by: a wall, a sky. */
const fewest = 15
/** The share of edges that are held to be the sharp ones. */
const sharpest = 0.1

/**
 * The blur of the sharpest edges, the standard deviation of a normal one in pixels of the photo; undefined where there
 * are too few. An edge of a height h, blurred so, is nowhere steeper than h / (blur sqrt(2 pi)).
 */
export function sharpestBlur(picture: Picture): number | undefined {
  const blurs: number[] = []
  for (let y = 0; y + 1 < picture.height; y += 4) edgesAlong(rowsAt(picture, y), blurs)
  if (blurs.length < fewest) return undefined
  return blurs.sort((a, b) => a - b)[Math.floor(sharpest * blurs.length)]! * picture.step
}

/** The root of green light, the mean of two rows and of three places in them. */
function rowsAt({ width, light }: Picture, y: number): Float32Array {
  const root = (row: number, x: number) => Math.sqrt(light[3 * (row * width + x) + 1]!)
  const plain = Float32Array.from({ length: width }, (_, x) => (root(y, x) + root(y + 1, x)) / 2)
  return plain.map((value, x) => (value + (plain[x - 1] ?? value) + (plain[x + 1] ?? value)) / 3)
}

/** Adds the blur of each edge that a line crosses, in its pixels: a part that only rises or only falls. */
function edgesAlong(line: Float32Array, blurs: number[]): void {
  let [from, steepest] = [0, 0]
  for (let x = 1; x < line.length; x++) {
    const step = line[x]! - line[x - 1]!
    steepest = Math.max(steepest, Math.abs(step))
    const next = (line[x + 1] ?? line[x]!) - line[x]!
    if (step * next > 0) continue
    const height = Math.abs(line[x]! - line[from]!)
    if (height >= leastEdge) blurs.push(height / (steepest * Math.sqrt(2 * Math.PI)))
    ;[from, steepest] = [x, 0]
  }
}
