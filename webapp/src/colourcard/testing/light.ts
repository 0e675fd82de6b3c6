// The colour of light, and what surfaces look like under it.

import { D50, type XYZ } from '../../colour/lab'

/** What falls on a scene. */
export interface Light {
  /** Correlated colour temperature, 1,667 to 25,000 K. */
  readonly kelvin: number
  /** Of a glowing body (lamps, low sun) or of the sky; daylight begins at 4,000 K. */
  readonly kind: 'glowing' | 'daylight'
  /** Added to the y of its chromaticity: above 0 greenish, as under leaves, below 0 pinkish, as of some lamps. */
  readonly tint: number
}

/** Three by three, in rows. */
export type Matrix = readonly [number, number, number, number, number, number, number, number, number]

/** The white of a light, with Y 1. */
export function whiteOf(light: Light): XYZ {
  const [x, y] = light.kind === 'glowing' ? glowing(light.kelvin) : daylight(light.kelvin)
  const tinted = y + light.tint
  return { X: x / tinted, Y: 1, Z: (1 - x - tinted) / tinted }
}

/** Kim et al. 2002 (US patent 7,024,034), cubic splines of Planck's locus within 1e-4 or so; from memory, checked
 * against CIE's illuminant A in light.test.ts. */
function glowing(kelvin: number): readonly [number, number] {
  const t = 1000 / kelvin
  const x = kelvin <= 4000
    ? ((-0.2661239 * t - 0.2343589) * t + 0.8776956) * t + 0.17991
    : ((-3.0258469 * t + 2.1070379) * t + 0.2226347) * t + 0.24039
  if (kelvin <= 2222) return [x, ((-1.1063814 * x - 1.3481102) * x + 2.18555832) * x - 0.20219683]
  if (kelvin <= 4000) return [x, ((-0.9549476 * x - 1.37418593) * x + 2.09137015) * x - 0.16748867]
  return [x, ((3.081758 * x - 5.8733867) * x + 3.75112997) * x - 0.37001483]
}

/** CIE 15, the daylight locus. */
function daylight(kelvin: number): readonly [number, number] {
  const t = 1000 / kelvin
  const x = kelvin <= 7000
    ? ((-4.607 * t + 2.9678) * t + 0.09911) * t + 0.244063
    : ((-2.0064 * t + 1.9018) * t + 0.24748) * t + 0.23704
  return [x, (-3 * x + 2.87) * x - 0.275]
}

/**
 * In which three signals a white is adapted: Bradford's and CIECAM02's sharpened cones, or X, Y and Z themselves
 * scaled, which is the worst of those in use. No camera's sensor is any of them, so what reads a scene must not stand
 * on one.
 */
export type Cones = 'bradford' | 'cat02' | 'xyz'

const cones: Record<Cones, Matrix> = {
  bradford: [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296],
  cat02: [0.7328, 0.4296, -0.1624, -0.7036, 1.6975, 0.0061, 0.003, 0.0136, 0.9834],
  xyz: [1, 0, 0, 0, 1, 0, 0, 0, 1],
}

/** What brings XYZ under one white to XYZ under another. */
export function adaptation(from: XYZ, to: XYZ, by: Cones): Matrix {
  const m = cones[by]
  const a = applied(m, from.X, from.Y, from.Z)
  const b = applied(m, to.X, to.Y, to.Z)
  return product(inverse(m), product([b[0] / a[0], 0, 0, 0, b[1] / a[1], 0, 0, 0, b[2] / a[2]], m))
}

/** From a surface's XYZ under D50 to what it sends back under a light. */
export function under(light: Light, by: Cones): Matrix {
  return adaptation(D50, whiteOf(light), by)
}

export function applied(m: Matrix, x: number, y: number, z: number): readonly [number, number, number] {
  return [m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z]
}

/** First b, then a. */
export function product(a: Matrix, b: Matrix): Matrix {
  const at = (row: number, column: number) => a[3 * row]! * b[column]! + a[3 * row + 1]! * b[3 + column]! + a[3 * row + 2]! * b[6 + column]!
  return [at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)]
}

export function inverse([a, b, c, d, e, f, g, h, i]: Matrix): Matrix {
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
  return [
    (e * i - f * h) / det, (c * h - b * i) / det, (b * f - c * e) / det,
    (f * g - d * i) / det, (a * i - c * g) / det, (c * d - a * f) / det,
    (d * h - e * g) / det, (b * g - a * h) / det, (a * e - b * d) / det,
  ]
}

/** Three rows of a matrix of the colour science, as one. */
export function flat(rows: readonly (readonly [number, number, number])[]): Matrix {
  const [r, s, t] = rows
  if (!r || !s || !t) throw new Error('a matrix has three rows')
  return [...r, ...s, ...t]
}

/** In place, three numbers at a time. */
export function throughAll([a, b, c, d, e, f, g, h, i]: Matrix, threes: Float32Array): void {
  for (let at = 0; at < threes.length; at += 3) {
    const x = threes[at]!
    const y = threes[at + 1]!
    const z = threes[at + 2]!
    threes[at] = a * x + b * y + c * z
    threes[at + 1] = d * x + e * y + f * z
    threes[at + 2] = g * x + h * y + i * z
  }
}

export const triple = ({ X, Y, Z }: XYZ): [number, number, number] => [X, Y, Z]
