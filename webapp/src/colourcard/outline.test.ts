import { describe, expect, it } from 'vitest'
import type { HeadMask } from './headmask'
import { outlineOf } from './outline'
import type { Picture } from './picture'
import { inverse3, type Nine } from './algebra'
import type { Pose } from './pose'
import { caliper, spreadOf } from './spread'
import { Random } from './testing/random'

interface Disc {
  readonly radius: number
  readonly blur: number
  readonly noise: number
  readonly inside: readonly [number, number, number]
  readonly around: readonly [number, number, number]
  /** How much too large its mask is, in pixels. */
  readonly maskOff: number
}

const [width, height] = [360, 300]
const middle = { x: 181.3, y: 149.6 }

/** A disc whose edge is blurred as by a Gaussian of so many pixels (a straight edge's profile, which it nearly is). */
function pictureOf(disc: Disc, random: Random): Picture {
  const light = new Float32Array(3 * width * height)
  for (let p = 0; p < width * height; p++) {
    const away = Math.hypot((p % width) + 0.5 - middle.x, Math.floor(p / width) + 0.5 - middle.y) - disc.radius
    const share = 1 - phi(away / Math.max(0.3, disc.blur))
    for (let c = 0; c < 3; c++) light[3 * p + c] = share * disc.inside[c]! + (1 - share) * disc.around[c]! + disc.noise * random.normal()
  }
  return { width, height, step: 1, light, ends: new Uint8Array(width * height) }
}

/** The normal distribution's: Abramowitz and Stegun 26.2.17, to 1e-7. */
function phi(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z))
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  return z > 0 ? 1 - tail : tail
}

function maskOf(disc: Disc): HeadMask {
  const [w, h] = [width / 2, height / 2]
  const on = new Uint8Array(w * h)
  for (let p = 0; p < on.length; p++) on[p] = Math.hypot(2 * (p % w) + 1 - middle.x, 2 * Math.floor(p / w) + 1 - middle.y) < disc.radius + disc.maskOff ? 1 : 0
  return { image: { width: w, height: h, left: 0, top: 0, step: 2, lab: new Float32Array(0) }, mask: { width: w, height: h, on } }
}

const white = [0.85, 0.85, 0.8] as const
const soil = [0.05, 0.035, 0.02] as const
const leaf = [0.06, 0.14, 0.03] as const
const rust = [0.16, 0.07, 0.04] as const

describe('an outline', () => {
  const cases: readonly [string, Disc][] = [
    ['is where a sharp edge is', { radius: 110, blur: 0, noise: 0, inside: white, around: soil, maskOff: 0 }],
    ['does not move when white is blurred into dark, where half of the lightness is not half of the light', { radius: 110, blur: 4, noise: 0, inside: white, around: soil, maskOff: 0 }],
    ['does not move when dark is blurred into light', { radius: 110, blur: 4, noise: 0, inside: soil, around: white, maskOff: 0 }],
    ['does not move with a mask that is too large', { radius: 100, blur: 1.5, noise: 0.01, inside: rust, around: leaf, maskOff: 4 }],
    ['does not move with a mask that is too small', { radius: 100, blur: 1.5, noise: 0.01, inside: rust, around: leaf, maskOff: -4 }],
    ['does not grow with noise', { radius: 100, blur: 1, noise: 0.05, inside: white, around: leaf, maskOff: 0 }],
    ['of a small head is as good in pixels', { radius: 25, blur: 1, noise: 0.01, inside: white, around: leaf, maskOff: 1 }],
  ]
  it.each(cases)('%s', (_, disc) => {
    const outline = outlineOf(pictureOf(disc, new Random(1)), maskOf(disc), () => false)
    expect(Math.abs(caliper(outline.points) / 2 - disc.radius)).toBeLessThan(0.25)
  })
})

const flat: Pose = { toPhoto: [4, 0, 20, 0, 4, 20, 0, 0, 1], toCard: inverse3([4, 0, 20, 0, 4, 20, 0, 0, 1]), covariance: new Float64Array(64), residual: 0 }

function ring(radius: number, pose: Pose, ratio = 1): Float64Array {
  const points = new Float64Array(480)
  for (let i = 0; i < 240; i++) {
    const [x, y] = [150 + radius * Math.cos((i * Math.PI) / 120), 30 + radius * ratio * Math.sin((i * Math.PI) / 120)]
    const [a, b, c, d, e, f, g, h, k] = pose.toPhoto
    const w = g * x + h * y + k
    points[2 * i] = (a * x + b * y + c) / w
    points[2 * i + 1] = (d * x + e * y + f) / w
  }
  return points
}

describe('a spread', () => {
  it('is a square’s sides by a quarter of pi, by Cauchy’s formula', () => {
    expect(caliper(Float64Array.of(0, 0, 1, 0, 1, 1, 0, 1, 0.5, 0.5))).toBeCloseTo(4 / Math.PI, 12)
  })

  it('is told in the card’s plane, however slanted that is', () => {
    const slanted: Nine = [4, 0.3, 20, 0.2, 2.9, 30, 0.0004, 0.0017, 1]
    for (const toPhoto of [flat.toPhoto, slanted]) {
      const pose = { ...flat, toPhoto }
      const spread = spreadOf({ points: ring(40, pose), se: 0.5, together: 4 }, pose, { width: 1600, height: 1200 })!
      expect(spread.width).toBeCloseTo(80, 1)
      expect(spread.round).toBeCloseTo(1, 2)
    }
  })

  it('is surer of a small head than of a large one that may lie before or behind the card, part for part', () => {
    const relative = [15, 60].map(radius => {
      const spread = spreadOf({ points: ring(radius, flat), se: 0.2, together: 4 }, flat, { width: 1600, height: 1200 })!
      return spread.se / spread.width
    })
    expect(relative[1]).toBeGreaterThan(relative[0]!)
  })

  it('is as unsure as the pose: a scale known to 2 % gives a spread known to 2 %', () => {
    const covariance = new Float64Array(64)
    // The scale of both axes goes up and down together.
    for (const [i, j] of [[0, 0], [0, 4], [4, 0], [4, 4]] as const) covariance[8 * i + j] = (0.02 * 4) ** 2
    const outline = { points: ring(30, flat), se: 0, together: 4 }
    const [sure, unsure] = [flat, { ...flat, covariance }].map(pose => spreadOf(outline, pose, { width: 1600, height: 1200 })!.se)
    expect(Math.sqrt(unsure! ** 2 - sure! ** 2)).toBeCloseTo(0.02 * 60, 2)
  })

  it('is not told of what reaches beyond the horizon of the card’s plane', () => {
    const pose = { ...flat, toPhoto: [4, 0, 20, 0, 4, 20, 0, 0.02, 1] as Nine }
    expect(spreadOf({ points: Float64Array.of(100, 100, 200, 100, 100, 5000), se: 0, together: 4 }, pose, { width: 1600, height: 1200 })).toBeUndefined()
  })
})
