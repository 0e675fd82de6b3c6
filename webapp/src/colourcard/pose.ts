// Where the card lies in a photo: the homography between its plane and the photo, and how sure it is.

import { cholesky, inverse3, product3, solved, type Nine } from './algebra'
import { cardHeight, cardWidth } from './geometry'
import type { Point } from './measurement'

/** A point in the card's plane, in the geometry's millimetres: beyond the card too, where a head stands beside it. */
export type OnCard = Point

export interface Pose {
  /** From millimetres to pixels, by rows; the last number is 1. */
  readonly toPhoto: Nine
  readonly toCard: Nine
  /** Of the first eight numbers of toPhoto, 8 by 8 by rows: how far edges were from where it says. */
  readonly covariance: Float64Array
  /** Root mean square of those distances, in pixels of the photo. */
  readonly residual: number
}

export function photoOf(pose: Pick<Pose, 'toPhoto'>, { x, y }: OnCard): Point {
  return through(pose.toPhoto, x, y)
}

export function cardOf(pose: Pick<Pose, 'toCard'>, { x, y }: Point): OnCard {
  return through(pose.toCard, x, y)
}

export function through([a, b, c, d, e, f, g, h, i]: Nine, x: number, y: number): Point {
  const w = g * x + h * y + i
  return { x: (a * x + b * y + c) / w, y: (d * x + e * y + f) / w }
}

/** The card's corners in the photo, upper left first and clockwise as it is read. */
export function cornersOf(pose: Pick<Pose, 'toPhoto'>): readonly [Point, Point, Point, Point] {
  const at = (x: number, y: number) => through(pose.toPhoto, x, y)
  return [at(0, 0), at(cardWidth, 0), at(cardWidth, cardHeight), at(0, cardHeight)]
}

/** Pixels to a millimetre around a point of the card, the geometric mean of the directions. */
export function pixelsToMillimetre({ toPhoto }: Pick<Pose, 'toPhoto'>, { x, y }: OnCard): number {
  const [a, b, , d, e, , g, h, i] = toPhoto
  const at = through(toPhoto, x, y)
  const w = g * x + h * y + i
  return Math.sqrt(Math.abs((a - g * at.x) * (e - h * at.y) - (b - h * at.x) * (d - g * at.y))) / Math.abs(w)
}

/**
 * The homography that takes four points to four others, the last number 1; undefined where three of a side lie on a
 * line. Source: the direct linear transformation, Hartley and Zisserman, Multiple View Geometry, 2nd edition, 4.1.
 */
export function homography(from: readonly Point[], to: readonly Point[]): Nine | undefined {
  const [normal, right] = [new Float64Array(64), new Float64Array(8)]
  const add = (row: readonly number[], value: number) => {
    for (let i = 0; i < 8; i++) {
      right[i]! += row[i]! * value
      for (let j = 0; j < 8; j++) normal[i * 8 + j]! += row[i]! * row[j]!
    }
  }
  const [unit, back] = [normalising(from), normalising(to)]
  for (const [k, point] of from.entries()) {
    const [p, q] = [through(unit, point.x, point.y), through(back, to[k]!.x, to[k]!.y)]
    add([p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y], q.x)
    add([0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y], q.y)
  }
  const factor = cholesky(normal, 8)
  if (!factor) return undefined
  const [a, b, c, d, e, f, g, h] = solved(factor, 8, right) as unknown as Nine
  return withLastOne(product3(inverse3(back), product3([a, b, c, d, e, f, g, h, 1], unit)))
}

/** Moves the points' centre to 0 and brings them to about 1 from it, so that the system keeps its digits. */
function normalising(points: readonly Point[]): Nine {
  const n = points.length
  const [x, y] = [points.reduce((sum, p) => sum + p.x, 0) / n, points.reduce((sum, p) => sum + p.y, 0) / n]
  const s = n / points.reduce((sum, p) => sum + Math.hypot(p.x - x, p.y - y), 0)
  return [s, 0, -s * x, 0, s, -s * y, 0, 0, 1]
}

function withLastOne(m: Nine): Nine {
  const [a, b, c, d, e, f, g, h, i] = m
  return [a / i, b / i, c / i, d / i, e / i, f / i, g / i, h / i, 1]
}
