// The card's pose in a photo, from the corners of its code and then from its straight edges.

import { cholesky, inverse3, inverted, solved, variance, type Nine } from './algebra'
import { edges, seenEdge, type Edge, type SeenEdge } from './edges'
import { codeModule, codeModules, codeX, codeY } from './geometry'
import type { Photo, Point } from './measurement'
import { homography, photoOf, type OnCard, type Pose } from './pose'

export interface Located {
  readonly pose: Pose
  /** Edges that lie where the pose has them; the others are hidden, or something else. */
  readonly seen: readonly SeenEdge[]
  /** Share of all edges that those are. */
  readonly share: number
}

const codeSide = codeModules * codeModule
const codeCorners: readonly OnCard[] = [[0, 0], [1, 0], [1, 1], [0, 1]].map(([x, y]) => ({ x: codeX + x! * codeSide, y: codeY + y! * codeSide }))

/** Edges that the pose so far tells to within this many millimetres are looked for; beyond, the next patch's would be met. */
const furthest = 3
/** Sets of edges that grow with what is known, until all are among them. */
const mostRounds = 6

/**
 * Starts from a code's corners, each with a standard deviation in modules of the code; undefined where no card lies
 * around them.
 */
export function located(photo: Photo, corners: readonly Point[], sd: readonly number[]): Located | undefined {
  const start = homography(codeCorners, corners)
  if (!start) return undefined
  const before = cornerPrior(start, corners, sd)
  const covariance = covarianceOf(before.normal)
  if (!covariance) return undefined
  let pose: Pose = { toPhoto: start, toCard: inverse3(start), covariance, residual: 0 }
  let asked = 0
  for (let round = 0; round < mostRounds; round++) {
    const from: Pose = pose
    const near = edges.map((edge) => ({ edge, search: searchFor(from, edge) })).filter(({ search }) => search < furthest)
    const seen = near.flatMap(({ edge, search }) => seenEdge(photo, from, edge, search) ?? [])
    const refined = fitted(from, seen, before)
    if (!refined) return undefined
    pose = refined.pose
    if (asked === edges.length) return { pose, seen: refined.held, share: refined.held.length / asked }
    asked = near.length
  }
  return undefined
}

/** As far as the pose so far may be wrong there. */
function searchFor(pose: Pose, edge: Edge): number {
  const { row, pixels } = normalRow(pose.toPhoto, edge)
  const sd = Math.sqrt(variance(row, pose.covariance)) / pixels
  return 0.25 + 3 * sd
}

interface NormalRow {
  /** How the eight numbers move the edge along its normal in the photo, in pixels. */
  readonly row: Float64Array
  /** Pixels of the photo to a millimetre along the normal. */
  readonly pixels: number
}

function normalRow(h: Nine, { at: { x, y }, outX, outY }: Edge): NormalRow {
  const w = h[6] * x + h[7] * y + h[8]
  const [px, py] = [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w]
  // The edge's own direction in the photo; its normal is across that, and not where the card's normal comes to lie.
  const [alongX, alongY] = [outY, -outX]
  const [tx, ty] = moved(h, px, py, w, alongX, alongY)
  const length = Math.hypot(tx, ty)
  const [ox, oy] = moved(h, px, py, w, outX, outY)
  const turn = Math.sign(tx * oy - ty * ox)
  const [nx, ny] = [(-turn * ty) / length, (turn * tx) / length]
  const both = nx * px + ny * py
  const row = Float64Array.of(nx * x, nx * y, nx, ny * x, ny * y, ny, -both * x, -both * y)
  for (let k = 0; k < 8; k++) row[k]! /= w
  return { row, pixels: nx * ox + ny * oy }
}

function moved(h: Nine, px: number, py: number, w: number, x: number, y: number): readonly [number, number] {
  const v = h[6] * x + h[7] * y
  return [(h[0] * x + h[1] * y - px * v) / w, (h[3] * x + h[4] * y - py * v) / w]
}

/** What the corners say, as normal equations around where they put the card: weak, and of use until edges are found. */
function cornerPrior(h: Nine, corners: readonly Point[], sd: readonly number[]): { readonly normal: Float64Array; readonly at: Nine } {
  const normal = new Float64Array(64)
  const side = Math.hypot(corners[1]!.x - corners[0]!.x, corners[1]!.y - corners[0]!.y)
  for (const [k, { x, y }] of codeCorners.entries()) {
    const weight = (codeModules / (sd[k]! * side)) ** 2
    const w = h[6] * x + h[7] * y + 1
    const p = photoOf({ toPhoto: h }, { x, y })
    addRow(normal, Float64Array.of(x / w, y / w, 1 / w, 0, 0, 0, (-p.x * x) / w, (-p.x * y) / w), weight)
    addRow(normal, Float64Array.of(0, 0, 0, x / w, y / w, 1 / w, (-p.y * x) / w, (-p.y * y) / w), weight)
  }
  return { normal, at: h }
}

function addRow(normal: Float64Array, row: Float64Array, weight: number): void {
  for (let i = 0; i < 8; i++) for (let j = 0; j < 8; j++) normal[i * 8 + j]! += weight * row[i]! * row[j]!
}

/**
 * Brings the pose to the edges by Gauss and Newton, each edge weighted by how well it agrees with the others (Tukey's
 * biweight, from the median of the distances): a finger's or a reflection's edge counts for nothing.
 */
function fitted(from: Pose, seen: readonly SeenEdge[], before: ReturnType<typeof cornerPrior>): { pose: Pose; held: SeenEdge[] } | undefined {
  const targets = seen.map(({ edge, off }) => photoOf(from, { x: edge.at.x + off * edge.outX, y: edge.at.y + off * edge.outY }))
  let h = from.toPhoto
  let spread = 0
  let normal = new Float64Array(64)
  let held: SeenEdge[] = []
  for (let round = 0; round < 8; round++) {
    const rows = seen.map(({ edge }) => normalRow(h, edge))
    const offs = seen.map(({ edge }, k) => offFrom(h, edge, targets[k]!))
    spread = Math.max(leastSpread, 1.4826 * median(offs.map(Math.abs)))
    normal = Float64Array.from(before.normal)
    const right = new Float64Array(8)
    for (let i = 0; i < 8; i++) for (let j = 0; j < 8; j++) right[i]! += before.normal[i * 8 + j]! * (before.at[j]! - h[j]!)
    held = []
    for (const [k, { row }] of rows.entries()) {
      const far = offs[k]! / (tukey * spread)
      if (!(Math.abs(far) < 1)) continue
      held.push(seen[k]!)
      const weight = (1 - far * far) ** 2 / (spread * spread)
      addRow(normal, row, weight)
      for (let i = 0; i < 8; i++) right[i]! += weight * row[i]! * offs[k]!
    }
    const factor = factorOf(normal)
    if (!factor) return undefined
    const step = factor.solve(right)
    h = h.map((value, k) => (k < 8 ? value + step[k]! : value)) as unknown as Nine
  }
  const covariance = covarianceOf(normal)
  const toCard = inverse3(h)
  if (!covariance || !toCard.every(Number.isFinite)) return undefined
  return { pose: { toPhoto: h, toCard, covariance, residual: spread }, held }
}

const tukey = 4.685
/** Pixels: edges are not told better than this. */
const leastSpread = 0.05

/** Pixels from where the pose has an edge to where it was seen, along its normal in the photo. */
function offFrom(h: Nine, edge: Edge, seen: Point): number {
  const p = photoOf({ toPhoto: h }, edge.at)
  const { row } = normalRow(h, edge)
  const w = h[6] * edge.at.x + h[7] * edge.at.y + h[8]
  return row[2]! * w * (seen.x - p.x) + row[5]! * w * (seen.y - p.y)
}

/** The system's numbers differ by many powers of ten, so that it is brought to a unit diagonal first. */
function factorOf(normal: Float64Array): { solve: (right: Float64Array) => Float64Array; inverse: () => Float64Array } | undefined {
  const scale = Float64Array.from({ length: 8 }, (_, i) => 1 / Math.sqrt(normal[i * 8 + i]!))
  const factor = cholesky(normal.map((value, k) => value * scale[k >> 3]! * scale[k & 7]!), 8)
  if (!factor) return undefined
  return {
    solve: (right) => solved(factor, 8, right.map((value, i) => value * scale[i]!)).map((value, i) => value * scale[i]!),
    inverse: () => inverted(factor, 8).map((value, k) => value * scale[k >> 3]! * scale[k & 7]!),
  }
}

function covarianceOf(normal: Float64Array): Float64Array | undefined {
  return factorOf(normal)?.inverse()
}

export function median(values: readonly number[]): number {
  if (values.length === 0) return 0
  const sorted = Float64Array.from(values).sort()
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}
