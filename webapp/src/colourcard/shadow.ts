// Whether a shadow's edge runs between the card and the head: then they do not stand in one light, and what the card
// says of the light does not hold for the head.
//
// Neither of them shows it, since the head's own lightness is what is asked for. What lies around them does: along a
// line between the two it is darker on one side than on the other, by about as much all along the line and whatever
// lies there, at the line and further off. Leaves, soil and straw differ from each other by less, or by a different
// amount at each place.

import { medianOf } from './patches'
import type { Point } from './measurement'
import type { Picture } from './picture'
import { fromCard, placeOf, type ToPlane } from './plane'

/** The edge between two lights that is seen best. */
export interface ShadowEdge {
  /** The natural logarithm of the one light over the other, above 0. */
  readonly step: number
  /** Over by how much the places along it differ: the larger, the more is it one edge. */
  readonly clear: number
}

/** Of light on one side of an edge over that on the other, as logarithms: less is what lies there, more is two different things. Open shade has from a half to a tenth of the sun's light (common practice, no source). */
const [leastStep, mostStep] = [0.6, 2.2]
/** From here on it may be a shadow's edge, and is held to be one. */
export const [doubtful, clear] = [1, 1.5]

/** Cells of the picture's long side. */
const side = 100
/** Cells beside a line that are looked at, close to it and in all; a soft edge lies between. */
const [closeTo, wide] = [[1, 4], [2, 15]] as const
/** Places along a line, and of those the share that must agree on which side is darker. */
const fewest = 24
const agreeing = 0.9
/** By how much red and blue over green may differ across it, as logarithms: shade is bluer than sun. */
const mostShift = 0.3
/** What any two places differ by, so that an even wall's last bit of noise is no edge. */
const leastDeviation = 0.1

/** The clearest edge of a shadow between two places of the photo; undefined where nothing looks like one. */
export function shadowBetween(picture: Picture, toPlane: ToPlane, card: Point, head: Point): ShadowEdge | undefined {
  const cells = cellsOf(picture, toPlane)
  const [c, h] = [card, head].map(({ x, y }) => ({ x: x / cells.size, y: y / cells.size })) as [Point, Point]
  const axis = Math.atan2(h.y - c.y, h.x - c.x)
  let best: ShadowEdge | undefined
  for (let turn = -50; turn <= 50; turn += 10) {
    const normal = axis + (turn * Math.PI) / 180
    for (let t = 0.2; t < 0.85; t += 0.08) {
      const edge = edgeAt(cells, { x: c.x + t * (h.x - c.x), y: c.y + t * (h.y - c.y) }, { x: Math.cos(normal), y: Math.sin(normal) })
      if (edge && edge.clear > (best?.clear ?? 0)) best = edge
    }
  }
  return best
}

/** Logarithms of green light, and of red and of blue over it; NaN where the card lies. */
interface Cells {
  readonly width: number
  readonly height: number
  /** Pixels of the photo. */
  readonly size: number
  readonly values: readonly [Float32Array, Float32Array, Float32Array]
}

/** What is lightless is no darker than this. */
const blackest = 0.002
/** Millimetres around the card whose cells hold some of it. */
const cardMargin = 2

function cellsOf({ width, height, light, step }: Picture, toPlane: ToPlane): Cells {
  const by = Math.max(1, Math.round(Math.max(width, height) / side))
  const [columns, rows] = [Math.floor(width / by), Math.floor(height / by)]
  const values = [0, 1, 2].map(() => new Float32Array(columns * rows).fill(NaN)) as [Float32Array, Float32Array, Float32Array]
  for (let y = 0, cell = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, cell++) {
      const place = placeOf(toPlane, (x + 0.5) * by * step, (y + 0.5) * by * step)
      if (place && fromCard(place) < cardMargin) continue
      const sums = [0, 0, 0]
      for (let row = y * by; row < (y + 1) * by; row += 2) {
        for (let at = 3 * (row * width + x * by), last = at + 3 * by; at < last; at += 6) for (let k = 0; k < 3; k++) sums[k]! += light[at + k]!
      }
      const [red, green, blue] = sums.map((sum) => Math.log(sum / Math.ceil(by / 2) ** 2 + blackest)) as [number, number, number]
      values[0][cell] = green
      values[1][cell] = red - green
      values[2][cell] = blue - green
    }
  }
  return { width: columns, height: rows, size: by * step, values }
}

/** What a line through a place is an edge of, across the whole picture; undefined where it is none. */
function edgeAt(cells: Cells, { x, y }: Point, normal: Point): ShadowEdge | undefined {
  const across: [number[], number[], number[]] = [[], [], []]
  const close: number[] = []
  const reach = Math.hypot(cells.width, cells.height)
  for (let along = -reach; along <= reach; along += 1.5) {
    const at = { x: x - along * normal.y, y: y + along * normal.x }
    if (at.x < 0 || at.y < 0 || at.x >= cells.width || at.y >= cells.height) continue
    const difference = differenceAt(cells, at, normal, wide)
    if (!difference) continue
    for (let k = 0; k < 3; k++) across[k]!.push(difference[k]!)
    const near = differenceAt(cells, at, normal, closeTo)
    if (near) close.push(near[0]!)
  }
  if (across[0].length < fewest || close.length < fewest / 2) return undefined
  const [step, red, blue] = [middle(across[0]), middle(across[1]), middle(across[2])]
  const beside = middle(close)
  const size = Math.abs(step)
  const one = across[0].filter((v) => v * step > 0).length >= agreeing * across[0].length
  if (size < leastStep || size > mostStep || beside * step <= 0 || Math.hypot(red, blue) > mostShift || !one) return undefined
  const deviation = 1.4826 * middle(across[0].map((v) => Math.abs(v - step)))
  return { step: size, clear: Math.min(size, Math.abs(beside)) / (deviation + leastDeviation) }
}

/** The means on one side of a place less those on the other; undefined where too little is there to see. */
function differenceAt(cells: Cells, at: Point, normal: Point, band: readonly [number, number]): readonly number[] | undefined {
  const [one, other] = [meanOf(cells, at, normal, band), meanOf(cells, at, { x: -normal.x, y: -normal.y }, band)]
  return one && other && one.map((v, k) => v - other[k]!)
}

function meanOf({ width, height, values }: Cells, at: Point, towards: Point, [from, to]: readonly [number, number]): readonly number[] | undefined {
  let [green, red, blue, n] = [0, 0, 0, 0]
  for (let away = from; away <= to; away++) {
    const [column, row] = [Math.floor(at.x + away * towards.x), Math.floor(at.y + away * towards.y)]
    if (column < 0 || row < 0 || column >= width || row >= height) continue
    const cell = row * width + column
    if (Number.isNaN(values[0][cell]!)) continue
    green += values[0][cell]!
    red += values[1][cell]!
    blue += values[2][cell]!
    n++
  }
  return n * 2 > to - from ? [green / n, red / n, blue / n] : undefined
}

const middle = (values: readonly number[]) => medianOf(Float64Array.from(values))
