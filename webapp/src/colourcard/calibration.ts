// What the card told of the light and the camera: from the photo's linear light to the colour that was there.

import { D50, labOf, type Lab } from '../colour/lab'
import { encoded, displayP3, sRGB, toD50, xyzOfRGB } from '../colour/rgb'
import { inverse3, product3, type Nine } from './algebra'
import { fieldAt, mixing, toneOf, unknowns, type Fit } from './fit'
import type { Photo } from './measurement'
import { cardOf, type Pose } from './pose'
import { untoned } from './tone'

export interface Calibration {
  /**
   * Writes the CIELAB (D50) of the linear light r, g, b (0 to 1, of the photo's space) at the photo's pixel x, y to
   * out[at], out[at + 1] and out[at + 2]. Nothing is allocated, so that it may be asked of every pixel.
   */
  readonly lab: (r: number, g: number, b: number, x: number, y: number, out: Float32Array, at: number) => void
}

/** Of the plane's last coordinate, which is 1 at its middle or near it. */
const horizon = 1e-6

/** Steps of the table that undoes the tone curve, even in the root of light. */
const steps = 1024

export function calibrationOf({ theta, space }: Fit, { toCard }: Pick<Pose, 'toCard'>): Calibration {
  const tone = toneOf(theta)
  const table = Float64Array.from({ length: steps + 2 }, (_, k) => untoned(tone, encoded((k / steps) ** 2)))
  const [a, b, c, d, e, f, g, h, i] = toCard
  const m = toXYZ(theta, space)
  const straight = (light: number) => {
    const at = steps * Math.sqrt(light)
    const k = Math.min(steps, Math.floor(at))
    return table[k]! + (at - k) * (table[k + 1]! - table[k]!)
  }
  const place = { x: 0, y: 0 }
  return {
    lab(red, green, blue, x, y, out, at) {
      // At the plane's horizon, and above it, it is as at the farthest place towards there.
      const w = Math.max(horizon, g * x + h * y + i)
      place.x = (a * x + b * y + c) / w
      place.y = (d * x + e * y + f) / w
      const level = 1 / fieldAt(theta, place)
      const [r, s, t] = [level * straight(red), level * straight(green), level * straight(blue)]
      const X = root((m[0] * r + m[1] * s + m[2] * t) / D50.X)
      const Y = root(m[3] * r + m[4] * s + m[5] * t)
      const Z = root((m[6] * r + m[7] * s + m[8] * t) / D50.Z)
      out[at] = 116 * Y - 16
      out[at + 1] = 500 * (X - Y)
      out[at + 2] = 200 * (Y - Z)
    },
  }
}

/** As of CIELAB, here once more since it runs for every pixel (CIE 15:2004, 8.2.1). */
function root(t: number): number {
  return t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116
}

/** From the camera's channels to XYZ under D50. */
function toXYZ(theta: ArrayLike<number>, space: Photo['space']): Nine {
  const column = (r: number, g: number, b: number) => toD50(xyzOfRGB({ r, g, b }, space === 'srgb' ? sRGB : displayP3))
  const [p, q, s] = [column(1, 0, 0), column(0, 1, 0), column(0, 0, 1)]
  return product3([p.X, q.X, s.X, p.Y, q.Y, s.Y, p.Z, q.Z, s.Z], inverse3(mixing(theta)))
}

/** The colour of one light, and how the fit's uncertainty carries into it. */
export interface Told {
  readonly lab: Lab
  /** Of L, a and b, 3 by 3 by rows. */
  readonly covariance: Float64Array
  /** The colour if the light that came to a channel had been so much more, full light being 1. */
  readonly moved: (channel: number, by: number) => Lab
}

/** The colour of linear light (0 to 1, of the photo's space) at a pixel of the photo. */
export function told({ theta, covariance, space }: Fit, pose: Pick<Pose, 'toCard'>, light: readonly [number, number, number], x: number, y: number): Told {
  const at = cardOf(pose, { x, y })
  const value = light.map(encoded)
  const colour = (t: ArrayLike<number>, channel = 0, by = 0) => {
    const tone = toneOf(t)
    const level = 1 / fieldAt(t, at)
    const [r, g, b] = value.map((one, k) => level * (untoned(tone, one) + (k === channel ? by : 0))) as [number, number, number]
    const m = toXYZ(t, space)
    return labOf({ X: m[0] * r + m[1] * g + m[2] * b, Y: m[3] * r + m[4] * g + m[5] * b, Z: m[6] * r + m[7] * g + m[8] * b }, D50)
  }
  const slopes = Array.from({ length: unknowns }, (_, k) => {
    const [up, down] = [colour(nudged(theta, k, 1e-4)), colour(nudged(theta, k, -1e-4))]
    return [(up.L - down.L) / 2e-4, (up.a - down.a) / 2e-4, (up.b - down.b) / 2e-4]
  })
  return { lab: colour(theta), covariance: carried(slopes, covariance), moved: (channel, by) => colour(theta, channel, by) }
}

const nudged = (theta: Float64Array, k: number, by: number) => theta.map((v, i) => (i === k ? v + by : v))

/** The covariance of what changes with each unknown by its slopes. */
function carried(slopes: readonly (readonly number[])[], covariance: Float64Array): Float64Array {
  const out = new Float64Array(9)
  const n = slopes.length
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      for (let p = 0; p < n; p++) for (let q = 0; q < n; q++) out[3 * i + j]! += slopes[p]![i]! * covariance[p * n + q]! * slopes[q]![j]!
    }
  }
  return out
}
