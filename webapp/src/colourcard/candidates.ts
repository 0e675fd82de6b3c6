// Which regions of a photo may be a flower head, and how much speaks for each.

import { cardWidth } from './geometry'
import type { LabImage } from './labimage'
import type { Point } from './measurement'
import { areaOfPixel, fromCard, placeOf, type ToPlane } from './plane'
import { bordersOf, joined, outside, type Borders, type Cells, type Tree } from './regions'

/** A region that may be a head. */
export interface Candidate {
  readonly node: number
  /** Above 0 more speaks for a head than against it. */
  readonly score: number
  /** Millimetres from the card's edge to where it begins; below 0 it reaches over the card. */
  readonly gap: number
  /** The diameter in millimetres of a disc as large. */
  readonly size: number
  /** Part of its outline that lies on the photo's border. */
  readonly onBorder: number
  /** Its shorter by its longer axis. */
  readonly round: number
  /** The score if lying there spoke against nothing: of a head that the frame cuts. */
  readonly uncut: number
}

/** What scoring needs to know of a photo that was cut into cells. */
export interface Field {
  readonly image: LabImage
  readonly cells: Cells
  readonly borders: Borders
  readonly tree: Tree
  readonly facts: Facts
}

/** Sums over the cells, and then over all nodes of the tree. */
interface Facts {
  /** Pixels, and square millimetres. */
  readonly pixels: Float64Array
  readonly area: Float64Array
  /** Those that lie on a tag's code or close around it. */
  readonly onTag: Float64Array
  /** Moments in the card's plane: x, y, xx, xy, yy, each weighted with the area. */
  readonly moments: Float64Array
  /** The cells' L, a, b and the squares of these, each weighted with the pixels. */
  readonly colour: Float64Array
  /** The least and greatest column, the least and greatest row. */
  readonly reach: Float64Array
  /** Edges of pixels at the photo's border, at the card, and those at other regions. */
  readonly border: Float64Array
  readonly card: Float64Array
  readonly gap: Float64Array
  /** Not all of it has a place in the card's plane. */
  readonly beyond: Uint8Array
}

const perNode = { moments: 5, colour: 6, reach: 4 }

/** Heads' diameters in millimetres. */
export const smallest = 15
export const largest = 250
/** A head that begins farther than this from the card does not stand beside it. */
export const beside = cardWidth

export function fieldOf(image: LabImage, cells: Cells, covered: Uint8Array, tagged: Uint8Array, toPlane: ToPlane): Field {
  const borders = bordersOf(cells, image.width)
  const before = factsOf(image, cells, covered, tagged, toPlane)
  const colours = Float64Array.from({ length: 3 * cells.count }, (_, k) => {
    const cell = Math.floor(k / 3)
    return before.colour[perNode.colour * cell + (k % 3)]! / before.pixels[cell]!
  })
  const tree = joined(borders, colours, before.pixels.slice(0, cells.count))
  return { image, cells, borders, tree, facts: summed(before, tree) }
}

function factsOf(image: LabImage, cells: Cells, covered: Uint8Array, tagged: Uint8Array, toPlane: ToPlane): Facts {
  const { width, height, lab, left, top, step } = image
  const most = 2 * cells.count
  const facts: Facts = {
    pixels: new Float64Array(most), area: new Float64Array(most), onTag: new Float64Array(most),
    moments: new Float64Array(perNode.moments * most), colour: new Float64Array(perNode.colour * most), reach: new Float64Array(perNode.reach * most),
    border: new Float64Array(most), card: new Float64Array(most), gap: new Float64Array(most).fill(Infinity), beyond: new Uint8Array(most),
  }
  for (let i = 0; i < cells.count; i++) facts.reach.set([Infinity, -Infinity, Infinity, -Infinity], perNode.reach * i)
  const middle = new Float64Array(2 * cells.count)
  for (let y = 0, p = 0; y < height; y++) {
    for (let x = 0; x < width; x++, p++) {
      const cell = cells.of[p]!
      if (cell === outside) continue
      facts.pixels[cell]! += 1
      facts.onTag[cell]! += tagged[p]!
      middle[2 * cell]! += x
      middle[2 * cell + 1]! += y
      const c = perNode.colour * cell
      for (let k = 0; k < 3; k++) facts.colour[c + k]! += lab[3 * p + k]!
      const r = perNode.reach * cell
      if (x < facts.reach[r]!) facts.reach[r] = x
      if (x > facts.reach[r + 1]!) facts.reach[r + 1] = x
      if (y < facts.reach[r + 2]!) facts.reach[r + 2] = y
      if (y > facts.reach[r + 3]!) facts.reach[r + 3] = y
      facts.border[cell]! += (x === 0 ? 1 : 0) + (y === 0 ? 1 : 0) + (x === width - 1 ? 1 : 0) + (y === height - 1 ? 1 : 0)
      const besideCard = (x > 0 && covered[p - 1]! !== 0) || (x < width - 1 && covered[p + 1]! !== 0) || (y > 0 && covered[p - width]! !== 0) || (y < height - 1 && covered[p + width]! !== 0)
      if (besideCard) facts.card[cell]! += 1
    }
  }
  for (let i = 0; i < cells.count; i++) {
    const n = facts.pixels[i]!
    for (let k = perNode.colour * i; k < perNode.colour * i + 3; k++) facts.colour[k + 3] = facts.colour[k]! ** 2 / n
    const x = left + (middle[2 * i]! / n + 0.5) * step
    const y = top + (middle[2 * i + 1]! / n + 0.5) * step
    const place = placeOf(toPlane, x, y)
    if (place === undefined) {
      facts.beyond[i] = 1
      continue
    }
    const area = n * step * step * areaOfPixel(toPlane, x, y)
    const own = area / (4 * Math.PI)
    facts.area[i] = area
    facts.moments.set([place.x, place.y, place.x * place.x + own, place.x * place.y, place.y * place.y + own].map(v => v * area), perNode.moments * i)
    facts.gap[i] = fromCard(place) - Math.sqrt(area / Math.PI)
  }
  return facts
}

function summed(facts: Facts, tree: Tree): Facts {
  for (let i = tree.cells; i < tree.nodes; i++) {
    const [l, r] = [tree.left[i]!, tree.right[i]!]
    for (const values of [facts.pixels, facts.area, facts.onTag, facts.border, facts.card]) values[i] = values[l]! + values[r]!
    for (const [values, n] of [[facts.moments, perNode.moments], [facts.colour, perNode.colour]] as const) {
      for (let k = 0; k < n; k++) values[n * i + k] = values[n * l + k]! + values[n * r + k]!
    }
    for (let k = 0; k < 4; k++) facts.reach[4 * i + k] = (k % 2 === 0 ? Math.min : Math.max)(facts.reach[4 * l + k]!, facts.reach[4 * r + k]!)
    facts.gap[i] = Math.min(facts.gap[l]!, facts.gap[r]!)
    facts.beyond[i] = facts.beyond[l]! | facts.beyond[r]!
  }
  return facts
}

/** Every region whose size and form a head may have, the best first. */
export function candidates(field: Field): Candidate[] {
  const found: Candidate[] = []
  for (let node = 0; node < field.tree.nodes; node++) {
    const candidate = judged(field, node)
    if (candidate !== undefined) found.push(candidate)
  }
  return found.sort((a, b) => b.score - a.score)
}

export interface Features {
  readonly size: number
  readonly gap: number
  /** 1 for an ellipse, less for what is scattered or bent. */
  readonly filled: number
  /** The shorter by the longer axis. */
  readonly round: number
  /** 1 for what bulges everywhere, less for what is ragged. */
  readonly smooth: number
  /** 0 to 1: how far what lies around it differs from it, beyond how it differs in itself. */
  readonly apart: number
  readonly colour: readonly [number, number, number]
  readonly uneven: number
  readonly onBorder: number
  readonly onTag: number
  readonly atCard: number
}

export function featuresOf({ facts, tree, borders }: Field, node: number): Features | undefined {
  const area = facts.area[node]!
  const size = 2 * Math.sqrt(area / Math.PI)
  if (facts.beyond[node]! !== 0 || size < 0.8 * smallest || size > 1.2 * largest) return undefined
  const m = facts.moments.subarray(perNode.moments * node, perNode.moments * (node + 1))
  const [mx, my] = [m[0]! / area, m[1]! / area]
  const [xx, xy, yy] = [m[2]! / area - mx * mx, m[3]! / area - mx * my, m[4]! / area - my * my]
  const half = (xx + yy) / 2
  const away = Math.hypot((xx - yy) / 2, xy)
  const filled = Math.min(1, area / (4 * Math.PI * Math.sqrt(Math.max(1e-9, half * half - away * away))))
  const round = Math.sqrt(Math.max(0, half - away) / (half + away))
  if (filled < 0.5 || round < 0.2) return undefined
  const n = facts.pixels[node]!
  const c = facts.colour.subarray(perNode.colour * node, perNode.colour * (node + 1))
  const colour: [number, number, number] = [c[0]! / n, c[1]! / n, c[2]! / n]
  const [vL, va, vb] = [0, 1, 2].map(k => Math.max(0, c[3 + k]! / n - colour[k]! * colour[k]!)) as [number, number, number]
  const uneven = Math.sqrt(0.36 * vL + va + vb)

  let outline = facts.border[node]! + facts.card[node]!
  let distinct = 0
  let seen = 0
  for (let k = tree.from[node]!; k < tree.to[node]!; k++) {
    const cell = tree.order[k]!
    for (let e = borders.start[cell]!; e < borders.start[cell + 1]!; e++) {
      const other = borders.to[e]!
      const at = placeIn(tree, other)
      if (at >= tree.from[node]! && at < tree.to[node]!) continue
      const length = borders.length[e]!
      const p = facts.pixels[other]!
      const dL = 0.6 * (facts.colour[6 * other]! / p - colour[0])
      const da = facts.colour[6 * other + 1]! / p - colour[1]
      const db = facts.colour[6 * other + 2]! / p - colour[2]
      outline += length
      seen += length
      distinct += length * Math.min(1, Math.hypot(dL, da, db) / (8 + 1.5 * uneven))
    }
  }
  const r = facts.reach.subarray(4 * node, 4 * node + 4)
  const box = 2 * (r[1]! - r[0]! + 1 + r[3]! - r[2]! + 1)
  return {
    size, gap: facts.gap[node]!, filled, round, colour, uneven,
    smooth: Math.min(1, box / outline),
    apart: seen === 0 ? 0 : distinct / seen,
    onBorder: facts.border[node]! / outline,
    onTag: facts.onTag[node]! / n,
    atCard: facts.card[node]! / outline,
  }
}

function placeIn(tree: Tree, cell: number): number {
  return tree.from[cell]!
}

/** Where in the photo a region's middle is, by its extent. */
export function middleOf({ image, facts }: Field, node: number): Point {
  const [left, right, top, bottom] = facts.reach.subarray(4 * node, 4 * node + 4) as unknown as readonly [number, number, number, number]
  return { x: image.left + ((left + right + 1) / 2) * image.step, y: image.top + ((top + bottom + 1) / 2) * image.step }
}

function judged(field: Field, node: number): Candidate | undefined {
  const f = featuresOf(field, node)
  if (f === undefined || f.size < smallest || f.size > largest || f.onTag > mostOnTag) return undefined
  const score = formScore(f) + placeScore(f) + colourScore(f)
  return { node, score, gap: f.gap, size: f.size, onBorder: f.onBorder, round: f.round, uncut: score + againstBorder * f.onBorder }
}

/** What hangs on to a tag's code with more than this part of it is the tag. */
const mostOnTag = 0.05
/** How much lying on the photo's border speaks against a head. */
const againstBorder = 8

/** How much a region's form speaks for a head: a disc or a broken one, that differs from what is around it. */
export function formScore(f: Features): number {
  return 4
    + 8 * Math.log(f.filled)
    + 1.5 * Math.log(Math.min(1, f.round / 0.8))
    + 1.2 * Math.log(Math.min(1, f.smooth / 0.85))
    + 5 * Math.log(Math.max(0.02, f.apart))
    - againstBorder * f.onBorder
}

/** How much its place and size do. */
function placeScore(f: Features): number {
  const farther = Math.max(0, f.gap - 20) / beside
  const smaller = Math.max(0, Math.log(80 / f.size))
  const larger = Math.max(0, Math.log(f.size / 140) / 0.3)
  return -1.5 * farther - 2.2 * smaller - 0.5 * larger * larger - 2 * Math.max(0, f.atCard - 0.15)
}

/** How much its colour does: not that of leaves, soil, shade or skin. */
function colourScore({ colour: [L, a, b], onBorder, round }: Features): number {
  const chroma = Math.hypot(a, b)
  const hue = (Math.atan2(b, a) * 180) / Math.PI
  const leaf = rise(hue, 95, 108) * (1 - rise(hue, 165, 185)) * rise(chroma, 7, 16) * (1 - rise(L, 68, 80))
  const soil = (1 - rise(L, 32, 48)) * (1 - rise(chroma, 16, 28))
  const grey = (1 - rise(chroma, 4, 9)) * (1 - rise(L, 72, 84)) * rise(L, 30, 45)
  const skin = rise(hue, 30, 40) * (1 - rise(hue, 75, 85)) * rise(chroma, 10, 16) * (1 - rise(chroma, 36, 46)) * (1 - rise(L, 82, 90))
  const held = Math.max(rise(onBorder, 0.02, 0.08), 1 - rise(round, 0.4, 0.6))
  return -2 * leaf - 2.5 * soil - 1.5 * grey - 4 * skin * held
}

function rise(value: number, from: number, to: number): number {
  return Math.min(1, Math.max(0, (value - from) / (to - from)))
}
