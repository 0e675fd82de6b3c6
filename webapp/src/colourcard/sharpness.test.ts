import { describe, expect, it } from 'vitest'
import type { Picture } from './picture'
import { sharpestBlur } from './sharpness'

/** The normal distribution's sum, to within 0.01. */
const rise = (x: number) => 1 / (1 + Math.exp(-1.702 * x))

/** Upright edges, each a normal distribution's sum of the standard deviation, in pixels. */
function edges(blur: number, low: number, high: number): Picture {
  const [width, height] = [600, 120]
  const light = new Float32Array(3 * width * height)
  for (let p = 0; p < width * height; p++) {
    const x = p % width % 200
    const part = rise((x - 50) / blur) - rise((x - 150) / blur)
    light[3 * p + 1] = (low + (high - low) * part) ** 2
  }
  return { width, height, step: 2, light, ends: new Uint8Array(width * height) }
}

describe('the blur of the sharpest edges', () => {
  it.each([2, 4, 8])('is told to within a quarter, of a deviation of %i pixels', (blur) => {
    // Twice as many pixels of the photo; the three places that are averaged blur a little on their own.
    expect(sharpestBlur(edges(blur, 0.2, 0.8))! / (2 * Math.hypot(blur, 0.82))).toBeCloseTo(1, 0.6)
  })

  it('is not told of what has no edges', () => {
    expect(sharpestBlur(edges(3, 0.5, 0.52))).toBeUndefined()
  })
})
