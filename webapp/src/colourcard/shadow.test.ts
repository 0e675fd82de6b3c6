import { describe, expect, it } from 'vitest'
import type { Picture } from './picture'
import { clear, shadowBetween } from './shadow'
import { Random } from './testing/random'

type Light = readonly [number, number, number]

/** A picture of rough ground, with a card of 90 by 66 pixels in it and a head to its right, lit as told. */
function ground(seed: number, lit: (x: number, y: number) => Light): Picture {
  const random = new Random(seed)
  const [width, height, rough] = [600, 400, 6]
  const clods = Float32Array.from({ length: Math.ceil(width / rough) * Math.ceil(height / rough) }, () => 0.15 * Math.exp(0.3 * random.normal()))
  const light = new Float32Array(3 * width * height)
  for (let p = 0; p < width * height; p++) {
    const [x, y] = [p % width, Math.floor(p / width)]
    const clod = clods[Math.floor(y / rough) * Math.ceil(width / rough) + Math.floor(x / rough)]!
    lit(x, y).forEach((part, k) => { light[3 * p + k] = clod * part })
  }
  return { width, height, step: 1, light, ends: new Uint8Array(width * height) }
}

// The card's millimetres are pixels from 150, 150 on.
const toPlane = [1, 0, -150, 0, 1, -150, 0, 0, 1] as const
const [card, head] = [{ x: 195, y: 183 }, { x: 320, y: 183 }]
const seed = 20261130

describe(`between card and head (seed ${seed})`, () => {
  it.each<[string, (x: number, y: number) => Light, boolean]>([
    ['the edge of a shade of a third of the light', (x) => (x < 262 ? [1, 1, 1] : [0.33, 0.33, 0.33]), true],
    ['the edge of a shade that is bluer', (x) => (x < 262 ? [1, 1, 1] : [0.3, 0.33, 0.37]), true],
    ['a slanting edge', (x, y) => (x + 0.4 * y < 340 ? [0.4, 0.4, 0.4] : [1, 1, 1]), true],
    ['even light', () => [1, 1, 1], false],
    ['light that falls off by a fifth over the picture', (x) => [1 - x / 3000, 1 - x / 3000, 1 - x / 3000], false],
    ['where straw begins on soil', (x) => (x < 262 ? [1, 1, 1] : [3, 2.2, 1.1]), false],
    ['a shade that reaches over both', (x) => (x < 420 ? [0.33, 0.33, 0.33] : [1, 1, 1]), false],
  ])('%s: %#', (_, lit, is) => {
    const edge = shadowBetween(ground(seed, lit), toPlane, card, head)
    expect((edge?.clear ?? 0) >= clear).toBe(is)
    if (is) expect(edge!.step).toBeGreaterThan(0.6)
  })
})
