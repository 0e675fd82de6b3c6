// The three squares in a QR code's corners, found in a picture: where codes lie that are too slanted, small or dark
// for a reader of whole pictures. A line through such a square's middle is dark, light, dark, light, dark in the
// proportions 1:1:3:1:1 whatever the slant (ISO/IEC 18004:2015, 6.3.3.1).

import { codeModules } from './geometry'
import type { Point } from './measurement'
import type { Picture } from './picture'

export interface FoundCode {
  /** Its outer corners in the photo, as the code is read; the lower right is where the others put it in a parallelogram. */
  readonly corners: readonly [Point, Point, Point, Point]
  /** Share of what every code of this size has in common that is there. */
  readonly likeness: number
}

interface Square {
  x: number
  y: number
  /** Of a module, across and down. */
  across: number
  down: number
  times: number
}

/** Green light of a picture, and around each place the mean that tells dark from light. */
interface Plane {
  readonly width: number
  readonly height: number
  readonly light: Float32Array
  readonly level: Float32Array
}

/** Half a window's side, in pixels, over which dark and light are told apart. */
const around = 14
/** Of the squares that were seen most often, this many are looked at in threes. */
const mostSquares = 24
const leastLikeness = 0.82

/** Codes of the card's size in a picture, the likeliest first. */
export function foundCodes(picture: Picture): FoundCode[] {
  const plane = planeOf(picture)
  const squares = squaresIn(plane)
  const found: FoundCode[] = []
  for (const three of threes(squares)) {
    const likeness = likenessOf(plane, three)
    if (likeness >= leastLikeness) found.push({ corners: cornersOf(three, picture.step), likeness })
  }
  return found.sort((a, b) => b.likeness - a.likeness)
}

function planeOf({ width, height, light }: Picture): Plane {
  const green = new Float32Array(width * height)
  for (let i = 0; i < green.length; i++) green[i] = light[3 * i + 1]!
  return { width, height, light: green, level: boxMean(green, width, height) }
}

/** The mean over a square window, which is cut at the picture's border: a sum that moves down for each column, and along those for each row. */
function boxMean(light: Float32Array, width: number, height: number): Float32Array {
  const mean = new Float32Array(width * height)
  const columns = new Float64Array(width)
  const add = (row: number, sign: 1 | -1) => {
    for (let x = 0, at = row * width; x < width; x++, at++) columns[x]! += sign * light[at]!
  }
  for (let row = 0; row < Math.min(around, height); row++) add(row, 1)
  for (let y = 0; y < height; y++) {
    if (y + around < height) add(y + around, 1)
    if (y > around) add(y - around - 1, -1)
    const rows = Math.min(height, y + around + 1) - Math.max(0, y - around)
    let sum = 0
    for (let x = 0; x < Math.min(around, width); x++) sum += columns[x]!
    for (let x = 0, at = y * width; x < width; x++, at++) {
      if (x + around < width) sum += columns[x + around]!
      if (x > around) sum -= columns[x - around - 1]!
      mean[at] = sum / (rows * (Math.min(width, x + around + 1) - Math.max(0, x - around)))
    }
  }
  return mean
}

function squaresIn(plane: Plane): Square[] {
  const squares: Square[] = []
  // Where the light crosses its level, along a row.
  const crossings = new Float64Array(plane.width)
  for (let y = 1; y < plane.height; y++) {
    const total = crossingsOf(plane, y, crossings)
    // Dark begins at every other crossing, and at the first unless the row begins dark.
    const first = plane.light[y * plane.width]! < plane.level[y * plane.width]! ? 1 : 0
    for (let k = first; k + 5 < total; k += 2) {
      if (!likeFinder(crossings, k)) continue
      const x = (crossings[k + 2]! + crossings[k + 3]!) / 2
      const across = (crossings[k + 5]! - crossings[k]!) / 7
      const checked = checkedDown(plane, x, y, across)
      if (checked) gather(squares, checked)
    }
  }
  return squares.sort((a, b) => b.times - a.times).slice(0, mostSquares)
}

/** How many places there are in a row where the light crosses its level, which are written to `out`. */
function crossingsOf({ width, light, level }: Plane, y: number, out: Float64Array): number {
  let total = 0
  let before = light[y * width]! - level[y * width]!
  for (let x = 1, at = y * width + 1; x < width; x++, at++) {
    const now = light[at]! - level[at]!
    if (before < 0 !== now < 0) out[total++] = x - 0.5 + before / (before - now)
    before = now
  }
  return total
}

/** Whether five runs from a crossing on are as 1:1:3:1:1, each to within 0.6 of a module. */
function likeFinder(crossings: Float64Array, k: number): boolean {
  const module = (crossings[k + 5]! - crossings[k]!) / 7
  if (module < 1) return false
  const slack = 0.6 * module
  for (let i = 0; i < 5; i++) {
    const wanted = i === 2 ? 3 : 1
    if (Math.abs(crossings[k + i + 1]! - crossings[k + i]! - wanted * module) > (i === 2 ? 2 : 1) * slack) return false
  }
  return true
}

/** The square around a place in a row, where the column through it tells of one too. */
function checkedDown(plane: Plane, x: number, y: number, across: number): Square | undefined {
  const column = Math.floor(x)
  const runs = new Float64Array(6)
  const up = edgesFrom(plane, column, y, -1, runs, 2)
  const down = edgesFrom(plane, column, y, 1, runs, 3)
  if (!up || !down) return undefined
  if (!likeFinder(runs, 0)) return undefined
  const module = (runs[5]! - runs[0]!) / 7
  if (module > 4 * across || across > 4 * module) return undefined
  return { x, y: (runs[2]! + runs[3]!) / 2, across, down: module, times: 1 }
}

/** The three crossings from a dark place up or down a column, written outwards from out[first]. */
function edgesFrom({ width, height, light, level }: Plane, x: number, y: number, step: 1 | -1, out: Float64Array, first: number): boolean {
  let found = 0
  let at = y * width + x
  let before = light[at]! - level[at]!
  if (before >= 0) return false
  for (let row = y + step; row >= 0 && row < height; row += step) {
    at = row * width + x
    const now = light[at]! - level[at]!
    if (before < 0 !== now < 0) {
      out[first + step * found] = row - step * (now / (now - before)) + 0.5
      if (++found === 3) return true
    }
    before = now
  }
  return false
}

function gather(squares: Square[], { x, y, across, down }: Square): void {
  for (const square of squares) {
    if (Math.abs(square.x - x) > 1.5 * square.across || Math.abs(square.y - y) > 1.5 * square.down) continue
    const n = square.times++
    square.x += (x - square.x) / (n + 1)
    square.y += (y - square.y) / (n + 1)
    square.across += (across - square.across) / (n + 1)
    square.down += (down - square.down) / (n + 1)
    return
  }
  squares.push({ x, y, across, down, times: 1 })
}

/** Upper left, upper right and lower left of a code as it is read. */
type Three = readonly [Square, Square, Square]

/** All that may be one code's: of about one size, not mirrored, as far apart as their size says. */
function* threes(squares: readonly Square[]): Generator<Three> {
  for (const corner of squares) {
    for (const right of squares) {
      if (right === corner || !alike(corner, right) || !apart(corner, right)) continue
      for (const below of squares) {
        if (below === corner || below === right || !alike(corner, below) || !apart(corner, below)) continue
        const turn = (right.x - corner.x) * (below.y - corner.y) - (right.y - corner.y) * (below.x - corner.x)
        // Of the code's parallelogram as of each square's: 14 modules against one.
        const area = turn / (between * between)
        if (area > 0.4 * corner.across * corner.down && area < 2.5 * corner.across * corner.down) yield [corner, right, below]
      }
    }
  }
}

/** Modules between the middles of two squares. */
const between = codeModules - 7

function alike(a: Square, b: Square): boolean {
  const near = (p: number, q: number) => p < 1.7 * q && q < 1.7 * p
  return near(a.across, b.across) && near(a.down, b.down)
}

function apart(a: Square, b: Square): boolean {
  const modules = Math.hypot((a.x - b.x) / (a.across + b.across), (a.y - b.y) / (a.down + b.down)) * 2
  return modules > 0.5 * between && modules < 2 * between
}

/** Whether a module that every code of version 1 has is dark; undefined for those that differ from code to code. */
function known(column: number, row: number): boolean | undefined {
  const [right, below] = [column > codeModules - 9, row > codeModules - 9]
  if (column < 8 && row < 8) return inSquare(column, row)
  if (right && row < 8) return inSquare(codeModules - 1 - column, row)
  if (column < 8 && below) return inSquare(column, codeModules - 1 - row)
  if (row === 6) return column % 2 === 0
  return column === 6 ? row % 2 === 0 : undefined
}

function inSquare(column: number, row: number): boolean {
  const ring = Math.max(Math.abs(column - 3), Math.abs(row - 3))
  return ring !== 2 && ring !== 4
}

/** Share of the known modules that are as they should be, black and white weighing the same. */
function likenessOf({ width, height, light, level }: Plane, [corner, right, below]: Three): number {
  const [ux, uy] = [(right.x - corner.x) / between, (right.y - corner.y) / between]
  const [vx, vy] = [(below.x - corner.x) / between, (below.y - corner.y) / between]
  const [hits, all] = [[0, 0], [0, 0]]
  for (let row = 0; row < codeModules; row++) {
    for (let column = 0; column < codeModules; column++) {
      const dark = known(column, row)
      if (dark === undefined) continue
      const x = Math.floor(corner.x + (column - 3) * ux + (row - 3) * vx)
      const y = Math.floor(corner.y + (column - 3) * uy + (row - 3) * vy)
      const side = dark ? 0 : 1
      all[side]!++
      if (x < 0 || y < 0 || x >= width || y >= height) continue
      if (light[y * width + x]! < level[y * width + x]! === dark) hits[side]!++
    }
  }
  return (hits[0]! / all[0]! + hits[1]! / all[1]!) / 2
}

function cornersOf([corner, right, below]: Three, step: number): FoundCode['corners'] {
  const at = (u: number, v: number): Point => ({
    x: step * (corner.x + ((right.x - corner.x) * u + (below.x - corner.x) * v) / between),
    y: step * (corner.y + ((right.y - corner.y) * u + (below.y - corner.y) * v) / between),
  })
  const [near, far] = [-3.5, codeModules - 3.5]
  return [at(near, near), at(far, near), at(far, far), at(near, far)]
}
