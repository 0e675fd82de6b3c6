// What a photo shows of each of the card's patches and of its bare paper: a robust centre of its pixels and how sure
// that is. A patch that is not of one colour, because something lies or shines over a part of it, is told as mixed.

import { codeModule, codeModules, codeX, codeY, paper, patches, patchSide } from './geometry'
import type { Photo } from './measurement'
import { lowerEnd, upperEnd } from './picture'
import { pixelsToMillimetre, through, type OnCard, type Pose } from './pose'

/** A piece of the card of one colour. */
interface Piece {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
  /** Its place in the geometry's colours. */
  readonly colour: number
  /** Of the geometry's patches; undefined for paper around the code. */
  readonly patch: number | undefined
  readonly columns: number
  readonly rows: number
}

export interface Reading {
  readonly colour: number
  readonly patch: number | undefined
  readonly middle: OnCard
  /** Red, green and blue as they are encoded in the photo's space, 0 to 1. */
  readonly value: readonly [number, number, number]
  /** Of the value, 3 by 3 by rows: noise alone. */
  readonly covariance: Float64Array
  /** Share of the pixels at which each channel is at its upper or its lower end. */
  readonly burnt: readonly [number, number, number]
  readonly black: readonly [number, number, number]
  /** Share of its cells that agree on the value. */
  readonly agreeing: number
  /** Whether the others are mostly brighter than those. */
  readonly brighter: boolean
}

/** Where the four light modules around a code end and patches begin, so that nothing else is printed there (ISO/IEC 18004:2015, 6.3.8). */
const codeSide = codeModules * codeModule
const paperPieces: readonly Piece[] = [
  { left: patches[1]!.x + patchSide, top: codeY - 2, width: codeX - patches[1]!.x - patchSide, height: codeSide / 2 + 2 },
  { left: patches[1]!.x + patchSide, top: codeY + codeSide / 2, width: codeX - patches[1]!.x - patchSide, height: codeSide / 2 + 2 },
  { left: codeX + codeSide, top: codeY - 2, width: patches[2]!.x - codeX - codeSide, height: codeSide / 2 + 2 },
  { left: codeX + codeSide, top: codeY + codeSide / 2, width: patches[2]!.x - codeX - codeSide, height: codeSide / 2 + 2 },
].map((piece) => ({ ...piece, colour: paper, patch: undefined, columns: 2, rows: 8 }))

const pieces: readonly Piece[] = [
  ...patches.map(({ x, y, colour }, patch) => ({ left: x, top: y, width: patchSide, height: patchSide, colour, patch, columns: 6, rows: 6 })),
  ...paperPieces,
]

/** Millimetres that are left out along a piece's border, and how many times the blur's standard deviation on top of that. */
const margin = 0.5
const blurs = 3

/** `blur` is the standard deviation of the blur in millimetres. Pieces that are blurred away, or lie outside of the photo, are left out. */
export function readings(photo: Photo, pose: Pick<Pose, 'toPhoto'>, blur: number): Reading[] {
  return pieces.flatMap((piece) => readingOf(photo, pose, piece, margin + blurs * blur) ?? [])
}

/**
 * A square of one colour that lies in a card's plane around a point of it, of a side in the card's millimetres; undefined where it is not all in the photo.
 *
 * @param colour - its place among those that it is fitted with
 */
export function squareAt(photo: Photo, pose: Pick<Pose, 'toPhoto'>, { x, y }: OnCard, side: number, colour: number): Reading | undefined {
  return readingOf(photo, pose, { left: x - side / 2, top: y - side / 2, width: side, height: side, colour, patch: undefined, columns: 6, rows: 6 }, 0)
}

/** Samples of a piece by cells: three values each, one after the other. */
interface Sampled {
  readonly values: Uint8Array
  readonly cells: number
  /** Samples of a cell. */
  readonly each: number
}

function readingOf(photo: Photo, pose: Pick<Pose, 'toPhoto'>, piece: Piece, inset: number): Reading | undefined {
  const [width, height] = [piece.width - 2 * inset, piece.height - 2 * inset]
  if (!(width > 0.8 && height > 0.8)) return undefined
  const inner = { ...piece, left: piece.left + inset, top: piece.top + inset, width, height }
  const middle = { x: piece.left + piece.width / 2, y: piece.top + piece.height / 2 }
  const sampled = sampledOf(photo, pose, inner, pixelsToMillimetre(pose, middle))
  if (!sampled) return undefined
  const means = cellMeans(sampled)
  const agreeing = agreeingCells(means, sampled)
  const count = agreeing.reduce((sum, on) => sum + on, 0)
  const kept = { means, agreeing, sampled }
  const value = [0, 1, 2].map((channel) => centreOf(kept, channel) / 255) as unknown as Reading['value']
  return {
    colour: piece.colour, patch: piece.patch, middle, value,
    covariance: covarianceOf(kept, count), burnt: shareOf(kept, (v) => v >= upperEnd), black: shareOf(kept, (v) => v <= lowerEnd),
    agreeing: count / sampled.cells, brighter: othersBrighter(kept),
  }
}

/** The nearest pixels to a grid that is about as fine as the photo. */
function sampledOf({ data, width, height }: Photo, { toPhoto }: Pick<Pose, 'toPhoto'>, piece: Piece, scale: number): Sampled | undefined {
  const fine = (length: number, cells: number) => Math.min(6, Math.max(1, Math.round((length * scale) / cells)))
  const [across, down] = [fine(piece.width, piece.columns), fine(piece.height, piece.rows)]
  const [columns, rows] = [piece.columns * across, piece.rows * down]
  const each = across * down
  const values = new Uint8Array(3 * columns * rows)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const p = through(toPhoto, piece.left + ((column + 0.5) / columns) * piece.width, piece.top + ((row + 0.5) / rows) * piece.height)
      const [x, y] = [Math.floor(p.x), Math.floor(p.y)]
      if (!(x >= 0 && y >= 0 && x < width && y < height)) return undefined
      const cell = Math.floor(row / down) * piece.columns + Math.floor(column / across)
      const to = 3 * (cell * each + (row % down) * across + (column % across))
      const from = 4 * (y * width + x)
      values[to] = data[from]!
      values[to + 1] = data[from + 1]!
      values[to + 2] = data[from + 2]!
    }
  }
  return { values, cells: piece.columns * piece.rows, each }
}

function cellMeans({ values, cells, each }: Sampled): Float64Array {
  const means = new Float64Array(3 * cells)
  for (let cell = 0; cell < cells; cell++) {
    for (let k = 0; k < each; k++) {
      for (let channel = 0; channel < 3; channel++) means[3 * cell + channel]! += values[3 * (cell * each + k) + channel]! / each
    }
  }
  return means
}

/** In 8-bit steps: cells are no more alike than this, whatever their median says. */
const leastDeviation = 0.5
/** Deviations from the median at which a cell is held to show something else. */
const tooFar = 4

/** 1 for each cell whose mean is near the cells' median in all channels. */
function agreeingCells(means: Float64Array, { cells }: Sampled): Uint8Array {
  const agreeing = new Uint8Array(cells).fill(1)
  for (let channel = 0; channel < 3; channel++) {
    const all = Float64Array.from({ length: cells }, (_, cell) => means[3 * cell + channel]!)
    const middle = medianOf(all)
    const deviation = Math.max(leastDeviation, 1.4826 * medianOf(all.map((v) => Math.abs(v - middle))))
    for (let cell = 0; cell < cells; cell++) if (Math.abs(all[cell]! - middle) > tooFar * deviation) agreeing[cell] = 0
  }
  return agreeing
}

export function medianOf(values: Float64Array): number {
  const sorted = values.toSorted()
  const half = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}

interface Kept {
  readonly means: Float64Array
  readonly agreeing: Uint8Array
  readonly sampled: Sampled
}

/**
 * The mean of the middle half of the pixels, in steps. It hardly moves by what is added or burnt out at the ends, and
 * a tone curve takes it along as it takes a single value; the mean of noisy pixels is moved by both.
 */
function centreOf({ agreeing, sampled: { values, each } }: Kept, channel: number): number {
  const counts = new Uint32Array(256)
  let total = 0
  for (let cell = 0; cell < agreeing.length; cell++) {
    if (agreeing[cell] === 0) continue
    for (let k = 0; k < each; k++) counts[values[3 * (cell * each + k) + channel]!]!++
    total += each
  }
  return midmean(counts, total)
}

/** Each count is held to lie evenly over its step, so that the result is finer than the steps. */
export function midmean(counts: Uint32Array, total: number): number {
  const [from, to] = [total / 4, (3 * total) / 4]
  let [below, sum] = [0, 0]
  for (let v = 0; v < 256; v++) {
    const n = counts[v]!
    const [low, high] = [Math.max(from, below), Math.min(to, below + n)]
    if (high > low) sum += (high - low) * (v - 0.5 + ((low + high) / 2 - below) / n)
    below += n
  }
  return sum / (to - from)
}

/** Neighbouring pixels of a JPEG vary together, so that what cells differ by says more than what pixels do. */
function covarianceOf({ means, agreeing }: Kept, count: number): Float64Array {
  const mean = [0, 0, 0]
  for (let cell = 0; cell < agreeing.length; cell++) if (agreeing[cell]) for (let k = 0; k < 3; k++) mean[k]! += means[3 * cell + k]! / count
  const covariance = new Float64Array(9)
  const share = 1 / (255 * 255 * count * Math.max(1, count - 1))
  for (let cell = 0; cell < agreeing.length; cell++) {
    if (!agreeing[cell]) continue
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) covariance[3 * i + j]! += (means[3 * cell + i]! - mean[i]!) * (means[3 * cell + j]! - mean[j]!) * share
  }
  return covariance
}

function shareOf({ agreeing, sampled: { values, each } }: Kept, is: (value: number) => boolean): [number, number, number] {
  const hits: [number, number, number] = [0, 0, 0]
  let total = 0
  for (let cell = 0; cell < agreeing.length; cell++) {
    if (agreeing[cell] === 0) continue
    total += each
    for (let k = 3 * cell * each; k < 3 * (cell + 1) * each; k++) if (is(values[k]!)) hits[(k % 3) as 0 | 1 | 2]++
  }
  return [hits[0] / total, hits[1] / total, hits[2] / total]
}

function othersBrighter({ means, agreeing }: Kept): boolean {
  const light = (on: number) => {
    let [sum, n] = [0, 0]
    for (let cell = 0; cell < agreeing.length; cell++) if (agreeing[cell] === on) [sum, n] = [sum + means[3 * cell]! + means[3 * cell + 1]! + means[3 * cell + 2]!, n + 1]
    return sum / n
  }
  return light(0) > light(1)
}
