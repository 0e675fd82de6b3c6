// How wide a head is in the card's plane, and how well that is known.

import { variance, type Nine } from './algebra'
import { focalOf } from './focal'
import type { Point } from './measurement'
import { areaOf, type Outline } from './outline'
import { placeOf, toPlaneOf, type ToPlane } from './plane'
import type { Pose } from './pose'

export interface Spread {
  /** Millimetres: the mean over all directions of the distance between two parallels that hold the head. */
  readonly width: number
  readonly se: number
  /** The outline's middle, and the shorter by the longer axis of the ellipse like it, as they would lie in the card's plane. */
  readonly middle: Point
  readonly round: number
}

/**
 * Standard deviation in millimetres of how far a head's rim lies before or behind the card's plane: by what a hand
 * that holds the card beside it is off, and by what a wide head bulges. A guess.
 */
const offPlane = (radius: number) => 8 + 0.1 * radius

export function spreadOf(outline: Outline, pose: Pose, photo: { readonly width: number; readonly height: number }): Spread | undefined {
  const points = inPlane(outline.points, toPlaneOf(pose))
  if (points === undefined) return undefined
  const width = caliper(points)
  const { middle, round } = ellipseOf(points)
  // A millimetre's pixels at the head, in the mean.
  const perMillimetre = Math.sqrt(Math.abs(areaOf(outline.points) / areaOf(points)))
  const free = outline.points.length / 2 / outline.together
  const fromNoise = (2 * outline.se) / perMillimetre / Math.sqrt(free)
  const fromEdge = (2 * edgeSE) / perMillimetre
  const fromPose = poseSE(outline, pose)
  const distance = focalOf(pose, photo) / perMillimetre
  const fromDepth = (width * offPlane(width / 2)) / distance
  return { width, se: Math.hypot(fromNoise, fromEdge, fromPose, fromDepth), middle, round }
}

/** What is left in pixels of a point's error when all lie too far in or out: sharpening, lobes. */
const edgeSE = 0.3

function inPlane(points: Float64Array, toPlane: ToPlane): Float64Array | undefined {
  const out = new Float64Array(points.length)
  for (let k = 0; k < points.length; k += 2) {
    const place = placeOf(toPlane, points[k]!, points[k + 1]!)
    if (place === undefined) return undefined
    out[k] = place.x
    out[k + 1] = place.y
  }
  return out
}

function poseSE(outline: Outline, pose: Pose): number {
  const few = outline.points.filter((_, k) => k % 8 < 2)
  const widthUnder = (toPhoto: Nine) => caliper(inPlane(few, toPlaneOf({ toPhoto })) ?? few)
  const width = widthUnder(pose.toPhoto)
  const gradient = Array.from({ length: 8 }, (_, k) => {
    const nudge = 1e-6 * (Math.abs(pose.toPhoto[k]!) + 1e-3)
    const nudged = pose.toPhoto.map((v, i) => (i === k ? v + nudge : v)) as unknown as Nine
    return (widthUnder(nudged) - width) / nudge
  })
  return Math.sqrt(Math.max(0, variance(gradient, pose.covariance)))
}

/** The mean caliper diameter: the convex hull's perimeter by pi (Cauchy). */
export function caliper(points: Float64Array): number {
  const hull = hullOf(points)
  let around = 0
  for (const [i, p] of hull.entries()) {
    const q = hull[(i + 1) % hull.length]!
    around += Math.hypot(q.x - p.x, q.y - p.y)
  }
  return around / Math.PI
}

/** Andrew's monotone chain. */
export function hullOf(points: Float64Array): Point[] {
  const sorted: Point[] = []
  for (let k = 0; k < points.length; k += 2) sorted.push({ x: points[k]!, y: points[k + 1]! })
  sorted.sort((p, q) => p.x - q.x || p.y - q.y)
  const chain = (of: readonly Point[]): Point[] => {
    const out: Point[] = []
    for (const p of of) {
      while (out.length > 1 && turn(out.at(-2)!, out.at(-1)!, p) <= 0) out.pop()
      out.push(p)
    }
    return out.slice(0, -1)
  }
  return [...chain(sorted), ...chain(sorted.toReversed())]
}

function turn(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

function ellipseOf(points: Float64Array): { readonly middle: Point; readonly round: number } {
  // Moments of the polygon's area by Green's theorem, about its first point.
  const [x0, y0] = [points[0]!, points[1]!]
  const sums = [0, 0, 0, 0, 0, 0]
  for (let k = 0; k < points.length; k += 2) {
    const j = (k + 2) % points.length
    const [x, y, u, v] = [points[k]! - x0, points[k + 1]! - y0, points[j]! - x0, points[j + 1]! - y0]
    const cross = x * v - u * y
    const terms = [cross / 2, ((x + u) * cross) / 6, ((y + v) * cross) / 6, ((x * x + x * u + u * u) * cross) / 12, ((x * v + 2 * x * y + 2 * u * v + u * y) * cross) / 24, ((y * y + y * v + v * v) * cross) / 12]
    for (const [i, t] of terms.entries()) sums[i]! += t
  }
  const [area, sx, sy, sxx, sxy, syy] = sums as [number, number, number, number, number, number]
  const [mx, my] = [sx / area, sy / area]
  const [xx, xy, yy] = [sxx / area - mx * mx, sxy / area - mx * my, syy / area - my * my]
  const half = (xx + yy) / 2
  const away = Math.hypot((xx - yy) / 2, xy)
  return { middle: { x: x0 + mx, y: y0 + my }, round: Math.sqrt(Math.max(0, half - away) / (half + away)) }
}
