// The light and the camera from the card's patches: least squares in the photo's own values, with what is known
// beforehand of every unknown, so that few patches do not say more than they can.
//
// The unknowns are a tone curve, a gain for each channel and six parts by which channels mix (together the 3 by 3 matrix
// of the card's XYZ to the camera's channels), a light field over the card's plane, and by how much each of the card's
// colours is off from what is known of it. All are fitted together by Gauss and Newton with priors (a maximum a
// posteriori estimate), and the inverse of the last normal matrix is their covariance. A patch counts the less the
// less it agrees with the rest (Geman and McClure's weight), so that what is covered or shines counts for nothing.

import { cholesky, inverted, solved, type Nine } from './algebra'
import type { Lab } from '../colour/lab'
import { D50, xyzOf } from '../colour/lab'
import { rgbOfXYZ, sRGB, displayP3, toD65 } from '../colour/rgb'
import { cardHeight, cardWidth } from './geometry'
import type { Photo } from './measurement'
import { medianOf, type Reading } from './patches'
import type { OnCard } from './pose'
import { toned, type Tone } from './tone'

/** Places of the unknowns; each colour of the card has three more after these. */
const [shoulder, bend, s, skew, gain, mix, field] = [0, 1, 2, 3, 4, 7, 13]
/** Unknowns of the light and the camera. */
export const unknowns = 18

/** What is known beforehand of the tone curve, the mixing and the field. Gains are free. */
const prior: readonly (readonly [place: number, mean: number, sd: number])[] = [
  [shoulder, -0.1, 0.3], [bend, 0, 0.1], [s, -0.2, 0.4], [skew, 0, 0.1],
  ...[0, 1, 2, 3, 4, 5].map((k) => [mix + k, 0, 0.25] as const),
  [field, 0, 0.2], [field + 1, 0, 0.2],
]
const freeGain = 3
/** How much the field is bent, against how much it slopes: light that is even is not bent either. */
const leastBent = 0.002
const bentBySlope = 0.3

/** What the patches of one photo are fitted by. */
export interface Target {
  readonly patches: readonly Lab[]
  /** Standard uncertainty of each component of a patch. */
  readonly se: number
  /** Of each patch by itself, where they are not known alike. */
  readonly ses?: readonly number[]
}

export interface Fit {
  /** The unknowns of the light and the camera. */
  readonly theta: Float64Array
  /** Of theta. */
  readonly covariance: Float64Array
  /** Of each reading, in its order: how much it counts, 1 where it agrees with the rest, and by how much it is lighter than expected, in encoded values. */
  readonly off: readonly { readonly weight: number; readonly excess: number }[]
  /** What was made least: the sum of all squared distances, priors included, those of readings as far as they count. */
  readonly loss: number
  /** The same by how much each reading counts, over what is left to vary: about 1 where all is as it is known. */
  readonly misfit: number
  /** What the patches turned out to be, in the target's order, and the covariance of L, a and b of each, 3 by 3 by rows. */
  readonly patches: readonly { readonly lab: Lab; readonly covariance: Float64Array }[]
  readonly space: Photo['space']
}

/** Where on the card the field is 0, and the length in which it is counted, in millimetres. */
const centre: OnCard = { x: cardWidth / 2, y: cardHeight / 2 }
const length = 50

export function toneOf(theta: ArrayLike<number>): Tone {
  return { shoulder: theta[shoulder]!, bend: theta[bend]!, s: theta[s]!, skew: theta[skew]! }
}

/** So many lengths from the card's middle the field ends: what was bent on the card would be anything farther out, and heads stand nearer. */
const farthest = 5

/** The light at a point of the card's plane over that at its middle. */
export function fieldAt(theta: ArrayLike<number>, { x, y }: OnCard): number {
  let [u, v] = [(x - centre.x) / length, (y - centre.y) / length]
  const squared = u * u + v * v
  if (squared > farthest * farthest) {
    const nearer = farthest / Math.sqrt(squared)
    u *= nearer
    v *= nearer
  }
  return Math.exp(theta[field]! * u + theta[field + 1]! * v + theta[field + 2]! * u * u + theta[field + 3]! * u * v + theta[field + 4]! * v * v)
}

/** By how much the camera's pictures are further from grey than what they show, the light left out: 1 where as far. */
export function vividness(theta: ArrayLike<number>): number {
  const m = mixing(theta)
  const [a, b, c, d, e, f, g, h, i] = m.map((value, k) => value / (m[k - (k % 3)]! + m[k - (k % 3) + 1]! + m[k - (k % 3) + 2]!)) as unknown as Nine
  // Grey stays grey, so that the determinant is that of the plane of colours: the square of a length.
  return Math.sqrt(Math.abs(a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)))
}

/** From linear light of the photo's space, as the card's colours would have it, to the camera's channels. */
export function mixing(theta: ArrayLike<number>): Nine {
  const [r, g, b] = [Math.exp(theta[gain]!), Math.exp(theta[gain + 1]!), Math.exp(theta[gain + 2]!)]
  const m = (k: number) => theta[mix + k]!
  return [r, r * m(0), r * m(1), g * m(2), g, g * m(3), b * m(4), b * m(5), b]
}

/** The linear light of a colour in a photo's space, if light and camera were neutral. */
export function straightLight(lab: Lab, space: Photo['space']): readonly [number, number, number] {
  const { r, g, b } = rgbOfXYZ(toD65(xyzOf(lab, D50)), space === 'srgb' ? sRGB : displayP3)
  return [r, g, b]
}

type Three = [number, number, number]

function predicted(theta: ArrayLike<number>, at: OnCard, [r, g, b]: readonly [number, number, number]): Three {
  const m = mixing(theta)
  const light = fieldAt(theta, at)
  const tone = toneOf(theta)
  return [
    toned(tone, light * (m[0] * r + m[1] * g + m[2] * b)),
    toned(tone, light * (m[3] * r + m[4] * g + m[5] * b)),
    toned(tone, light * (m[6] * r + m[7] * g + m[8] * b)),
  ]
}

/** In CIELAB: what is left between a patch and the model in any case. It begins large, so that a covered patch does not draw the fit. */
const floors = [8, 5, 3, 2, 1.2, 0.7, 0.45, 0.3, 0.3, 0.3, 0.3]
/** Squared deviations of a reading at which it counts a quarter. */
const agree = 14
/** An even patch is rounded to 8-bit steps and to a JPEG's coarser ones all over: about a step's standard deviation, 0.29. */
const leastNoise = 0.35 / 255
/** Share of a reading's pixels at a channel's end from which its value is not what it would be. */
const mostAtEnd = 0.02

/** Shoulders to begin from. With hardly one, bright patches of a camera that has one are left out, and it is never learnt of. */
const [hardly, strong] = [-0.1, 0.5]

/** The fit of at least a few readings; undefined where they leave the unknowns open. */
export function fitted(readings: readonly Reading[], target: Target, space: Photo['space']): Fit | undefined {
  const first = fittedFrom(hardly, readings, target, space)
  if (first?.off.every(({ weight }) => weight >= 0.5)) return first
  const second = fittedFrom(strong, readings, target, space)
  return first && (!second || first.loss <= second.loss) ? first : second
}

function fittedFrom(from: number, readings: readonly Reading[], target: Target, space: Photo['space']): Fit | undefined {
  const size = unknowns + 3 * target.patches.length
  const theta = start(readings, target, space, size)
  theta[shoulder] = from
  const slots = readings.map((reading) => ({ reading, channels: usable(reading) }))
  let last: Round | undefined
  for (const floor of floors) {
    for (let again = 0; again < 2; again++) {
      last = round(theta, slots, target, space, floor)
      if (!last) return undefined
      for (let i = 0; i < size; i++) theta[i]! += Math.max(-1, Math.min(1, last.step[i]!))
    }
  }
  if (!last) return undefined
  const inverse = inverted(last.factor, size)
  const covariance = new Float64Array(unknowns * unknowns)
  for (let i = 0; i < unknowns; i++) for (let j = 0; j < unknowns; j++) covariance[i * unknowns + j] = inverse[i * size + j]!
  return { theta: theta.slice(0, unknowns), covariance, off: last.off, loss: last.loss, misfit: last.squared / Math.max(1, last.freedom), patches: patchesOf(theta, inverse, target), space }
}

function patchesOf(theta: Float64Array, inverse: Float64Array, { patches }: Target): Fit['patches'] {
  return patches.map(({ L, a, b }, patch) => {
    const first = unknowns + 3 * patch
    const covariance = Float64Array.from({ length: 9 }, (_, k) => inverse[(first + Math.floor(k / 3)) * theta.length + first + (k % 3)]!)
    return { lab: { L: L + theta[first]!, a: a + theta[first + 1]!, b: b + theta[first + 2]! }, covariance }
  })
}

/** The channels of a reading that are not at an end of their scale. */
export function usable({ burnt, black, value }: Reading): number[] {
  return [0, 1, 2].filter((k) => burnt[k]! < mostAtEnd && black[k]! < mostAtEnd && value[k]! > 0)
}

/** Gains from the readings themselves, all else as its prior says. */
function start(readings: readonly Reading[], { patches }: Target, space: Photo['space'], size: number): Float64Array {
  const theta = new Float64Array(size)
  for (const [place, mean] of prior) theta[place] = mean
  for (let channel = 0; channel < 3; channel++) {
    const ratios = readings.filter((reading) => usable(reading).includes(channel)).map(({ colour, value }) => {
      const bare = straightLight(patches[colour]!, space)[channel]!
      return Math.log(untonedRoughly(value[channel]!) / Math.max(0.01, bare))
    })
    if (ratios.length > 0) theta[gain + channel] = medianOf(Float64Array.from(ratios))
  }
  return theta
}

const untonedRoughly = (value: number) => Math.max(1e-4, value ** 2.2)

interface Round {
  readonly factor: Float64Array
  readonly step: Float64Array
  readonly off: Fit['off']
  readonly loss: number
  readonly squared: number
  readonly freedom: number
}

interface Slot {
  readonly reading: Reading
  readonly channels: readonly number[]
}

function round(theta: Float64Array, slots: readonly Slot[], target: Target, space: Photo['space'], floor: number): Round | undefined {
  const size = theta.length
  const normal = new Float64Array(size * size)
  const right = new Float64Array(size)
  const known = (place: number, mean: number, sd: number) => {
    normal[place * size + place]! += 1 / (sd * sd)
    right[place]! += (mean - theta[place]!) / (sd * sd)
    return ((mean - theta[place]!) / sd) ** 2
  }
  let loss = 0
  for (const [place, mean, sd] of prior) loss += known(place, mean, sd)
  for (let k = 0; k < 3; k++) known(gain + k, theta[gain + k]!, freeGain)
  const bent = leastBent + bentBySlope * Math.hypot(theta[field]!, theta[field + 1]!)
  for (let k = 2; k < 5; k++) loss += known(field + k, 0, bent)
  for (let k = unknowns; k < size; k++) loss += known(k, 0, target.ses?.[Math.floor((k - unknowns) / 3)] ?? target.se)
  let [squared, freedom] = [loss, -3]
  const off = slots.map((slot) => {
    const one = offOf(theta, slot, target, space, floor)
    const weight = (agree / (agree + one.squared)) ** 2
    one.rows.forEach((row, k) => {
      for (let i = 0; i < row.places.length; i++) {
        const [p, a] = [row.places[i]!, weight * row.slopes[i]!]
        right[p]! += a * one.whitened[k]!
        for (let j = 0; j < row.places.length; j++) normal[p * size + row.places[j]!]! += a * row.slopes[j]!
      }
    })
    loss += (agree * one.squared) / (agree + one.squared)
    squared += weight * one.squared
    freedom += weight * slot.channels.length
    return { weight, excess: one.excess }
  })
  const factor = cholesky(normal, size)
  return factor && { factor, step: solved(factor, size, right), off, loss, squared, freedom }
}

interface Off {
  readonly squared: number
  /** Residuals over their standard deviations, made independent of each other. */
  readonly whitened: readonly number[]
  /** Their slopes by the unknowns they depend on. */
  readonly rows: readonly { readonly places: readonly number[]; readonly slopes: Float64Array }[]
  /** Mean of what was seen above what was expected, in encoded values. */
  readonly excess: number
}

const cameraPlaces = Array.from({ length: unknowns }, (_, k) => k)

function offOf(theta: Float64Array, { reading, channels }: Slot, { patches }: Target, space: Photo['space'], floor: number): Off {
  const first = unknowns + 3 * reading.colour
  const places = [...cameraPlaces, first, first + 1, first + 2]
  const known = patches[reading.colour]!
  const lab = { L: known.L + theta[first]!, a: known.a + theta[first + 1]!, b: known.b + theta[first + 2]! }
  const light = straightLight(lab, space)
  const expected = predicted(theta, reading.middle, light)
  const slopes = places.map((place, k) => slopeOf(theta, reading, place, k - unknowns, lab, light, expected, space))
  const n = channels.length
  const covariance = new Float64Array(n * n)
  channels.forEach((c, i) => channels.forEach((d, j) => {
    const own = slopes.slice(unknowns).reduce((sum, slope) => sum + slope[c]! * slope[d]!, 0) * floor * floor
    covariance[i * n + j] = reading.covariance[3 * c + d]! + own + (i === j ? leastNoise * leastNoise : 0)
  }))
  const factor = cholesky(covariance, n)
  if (!factor) throw new Error(`fitting a patch of colour ${reading.colour}: its covariance is not positive`)
  const residual = channels.map((c) => reading.value[c]! - expected[c]!)
  const whitened = forward(factor, n, residual)
  const columns = slopes.map((slope) => forward(factor, n, channels.map((c) => slope[c]!)))
  const rows = channels.map((_, k) => ({ places, slopes: Float64Array.from(columns, (column) => column[k]!) }))
  return { squared: whitened.reduce((sum, v) => sum + v * v, 0), whitened, rows, excess: residual.reduce((sum, v) => sum + v, 0) / Math.max(1, n) }
}

/** How the three values change with an unknown; `component` is that of the patch's own colour, where it is 0 or more. */
function slopeOf(theta: Float64Array, { middle }: Reading, place: number, component: number, lab: Lab, light: readonly [number, number, number], expected: Three, space: Photo['space']): Three {
  const nudge = component < 0 ? 1e-4 : 1e-2
  let moved: Three
  if (component < 0) {
    const was = theta[place]!
    theta[place] = was + nudge
    moved = predicted(theta, middle, light)
    theta[place] = was
  } else {
    const other = { L: lab.L + (component === 0 ? nudge : 0), a: lab.a + (component === 1 ? nudge : 0), b: lab.b + (component === 2 ? nudge : 0) }
    moved = predicted(theta, middle, straightLight(other, space))
  }
  return [(moved[0] - expected[0]) / nudge, (moved[1] - expected[1]) / nudge, (moved[2] - expected[2]) / nudge]
}

/** Solves with the lower factor alone. */
function forward(factor: Float64Array, n: number, right: readonly number[]): number[] {
  const x = [...right]
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= factor[i * n + k]! * x[k]!
    x[i]! /= factor[i * n + i]!
  }
  return x
}
