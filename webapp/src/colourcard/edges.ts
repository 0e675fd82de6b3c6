// The card's straight edges in a photo: where each is along its normal, how sharp, and how much it stands out.

import { codeModule, codeModules, codeX, codeY, paper, patches, patchSide } from './geometry'
import type { Photo } from './measurement'
import { lightOf } from './picture'
import { photoOf, type OnCard, type Pose } from './pose'

/** A piece of an edge, in the card's plane. */
export interface Edge {
  readonly at: OnCard
  /** Unit normal, from the dark side to the light one. */
  readonly outX: number
  readonly outY: number
  /** How far the piece reaches along the edge to either side, in millimetres. */
  readonly reach: number
  /** How far from it neither side has another edge. */
  readonly free: number
  /** Its patch's place in the geometry's; undefined at the code. */
  readonly patch: number | undefined
}

export interface SeenEdge {
  readonly edge: Edge
  /** Millimetres along the normal from where the pose has it. */
  readonly off: number
  /** Standard deviation of the blur across it, in millimetres, taken for normal. */
  readonly blur: number
  /** Of the green light's step, against the lighter side. */
  readonly contrast: number
}

const pieces = [0.14, 0.32, 0.5, 0.68, 0.86]

/** Of the dark squares in the code's corners and of every patch that is not bare paper. */
export const edges: readonly Edge[] = [...finderEdges(), ...patchEdges()]

function patchEdges(): Edge[] {
  return patches.flatMap(({ x, y, colour }, patch) => (colour === paper ? [] : square(x, y, patchSide, pieces, { reach: 0.9, free: 1, patch })))
}

function finderEdges(): Edge[] {
  const far = (codeModules - 7) * codeModule
  const corners = [[0, 0], [far, 0], [0, far]] as const
  return corners.flatMap(([x, y]) => square(codeX + x, codeY + y, 7 * codeModule, [0.2, 0.5, 0.8], { reach: 0.8, free: 0.5 * codeModule, patch: undefined }))
}

function square(x: number, y: number, side: number, places: readonly number[], kind: Pick<Edge, 'reach' | 'free' | 'patch'>): Edge[] {
  return places.flatMap((place) => {
    const along = place * side
    return [
      { at: { x: x + along, y }, outX: 0, outY: -1, ...kind },
      { at: { x: x + along, y: y + side }, outX: 0, outY: 1, ...kind },
      { at: { x, y: y + along }, outX: -1, outY: 0, ...kind },
      { at: { x: x + side, y: y + along }, outX: 1, outY: 0, ...kind },
    ]
  })
}

/** Pixels along a piece whose light is averaged. */
const abreast = 5
/** A step of less than this share of the light side's light is no edge that can be told from noise and texture. */
const leastContrast = 0.08

/**
 * Looks for an edge no further than `search` millimetres from where the pose has it; undefined where there is none of
 * the right kind, or the photo ends. The place is where the light is halfway between its two sides: blur that is the
 * same to both sides, as optics make it in linear light, does not move it.
 */
export function seenEdge(photo: Photo, pose: Pick<Pose, 'toPhoto'>, edge: Edge, search: number): SeenEdge | undefined {
  const from = -search - edge.free
  const count = 2 * Math.ceil((search + edge.free) / stepAlong(pose, edge)) + 1
  const step = (-2 * from) / (count - 1)
  const profile = profileOf(photo, pose, edge, from, step, count)
  if (!profile) return undefined
  const apart = Math.max(1, Math.round((0.5 * edge.free) / step))
  const steepest = steepestOf(profile, apart)
  if (steepest === undefined) return undefined
  const reach = Math.round(edge.free / step)
  const dark = meanOf(profile, steepest - reach, steepest - Math.round(0.7 * reach))
  const light = meanOf(profile, steepest + Math.round(0.7 * reach), steepest + reach)
  const rise = light - dark
  if (!(rise > leastContrast * light)) return undefined
  const crossing = crossingOf(profile, steepest, apart, (dark + light) / 2)
  if (crossing === undefined) return undefined
  // The slope of a step blurred by a normal is its height over sqrt(2 pi) times the standard deviation.
  const slope = slopeAt(profile, crossing) / step
  return { edge, off: from + crossing * step, blur: rise / (slope * Math.sqrt(2 * Math.PI)), contrast: rise / light }
}

/** Half a pixel, but no more than 60 samples a millimetre. */
function stepAlong(pose: Pick<Pose, 'toPhoto'>, { at, outX, outY, free }: Edge): number {
  const [p, q] = [photoOf(pose, at), photoOf(pose, { x: at.x + free * outX, y: at.y + free * outY })]
  return Math.max(free / 16, (0.5 * free) / Math.max(0.5, Math.hypot(p.x - q.x, p.y - q.y)))
}

/** Green light across the edge: the colours of all patches differ most from paper in green. */
function profileOf(photo: Photo, { toPhoto }: Pick<Pose, 'toPhoto'>, edge: Edge, from: number, step: number, count: number): Float64Array | undefined {
  const [a, b, c, d, e, f, g, h, i] = toPhoto
  const profile = new Float64Array(count)
  for (let k = 0; k < count; k++) {
    const off = from + k * step
    for (let side = 0; side < abreast; side++) {
      const along = edge.reach * ((2 * side + 1) / abreast - 1)
      const x = edge.at.x + off * edge.outX + along * edge.outY
      const y = edge.at.y + off * edge.outY - along * edge.outX
      const w = g * x + h * y + i
      const light = greenAt(photo, (a * x + b * y + c) / w - 0.5, (d * x + e * y + f) / w - 0.5)
      if (!(light >= 0)) return undefined
      profile[k]! += light / abreast
    }
  }
  return profile
}

/** Between the middles of four pixels; -1 beyond the photo. */
function greenAt({ data, width, height }: Photo, x: number, y: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)]
  if (!(left >= 0 && top >= 0 && left < width - 1 && top < height - 1)) return -1
  const [u, v] = [x - left, y - top]
  const at = 4 * (top * width + left) + 1
  const under = at + 4 * width
  return (1 - v) * ((1 - u) * lightOf[data[at]!]! + u * lightOf[data[at + 4]!]!) + v * ((1 - u) * lightOf[data[under]!]! + u * lightOf[data[under + 4]!]!)
}

/** Where the profile rises most over twice `apart`. */
function steepestOf(profile: Float64Array, apart: number): number | undefined {
  let best = 0
  let where: number | undefined
  for (let k = 2 * apart; k < profile.length - 2 * apart; k++) {
    const rise = profile[k + apart]! - profile[k - apart]!
    if (rise > best) [best, where] = [rise, k]
  }
  return where
}

function meanOf(profile: Float64Array, from: number, to: number): number {
  const [first, last] = [Math.max(0, from), Math.min(profile.length - 1, to)]
  let sum = 0
  for (let k = first; k <= last; k++) sum += profile[k]!
  return sum / (last - first + 1)
}

/** The place, between samples, nearest to `around` at which the profile rises through a level. */
function crossingOf(profile: Float64Array, around: number, within: number, level: number): number | undefined {
  for (let away = 0; away <= within; away++) {
    for (const k of [around - away - 1, around + away]) {
      const [low, high] = [profile[k]!, profile[k + 1]!]
      if (low <= level && level < high) return k + (level - low) / (high - low)
    }
  }
  return undefined
}

function slopeAt(profile: Float64Array, place: number): number {
  const k = Math.min(profile.length - 3, Math.max(1, Math.floor(place)))
  return (profile[k + 2]! - profile[k - 1]!) / 3
}
