// Cuts an image into small even-coloured cells and joins those most alike, step by step, into regions:
// each region that arises on the way may be a head.
//
// The cells are those of R. Achanta and S. Süsstrunk, "Superpixels and Polygons using Simple Non-Iterative
// Clustering" (CVPR 2017); the joining is a binary partition tree (P. Salembier and L. Garrido, IEEE Trans.
// Image Processing 9, 2000, 561-576) under Ward's criterion (J. Am. Stat. Assoc. 58, 1963, 236-244).

import type { LabImage } from './labimage'

export const outside = -1

/** The cell of each pixel, or `outside`. */
export interface Cells {
  readonly of: Int32Array
  readonly count: number
}

/** Lightness tells less than hue and chroma do: half of a head may lie in shade. */
export const lightnessWeight = 0.6

/** Cells grow from seeds side pixels apart, each taking the pixels nearest to it in colour and place. Pixels not open are in none. */
export function cellsOf(image: LabImage, open: Uint8Array, side: number): Cells {
  const { width, height, lab } = image
  const of = new Int32Array(width * height).fill(outside)
  const queue = new Queue(5 * width * height)
  const sums: number[] = []
  let count = 0
  for (let y = side >> 1; y < height; y += side) {
    for (let x = side >> 1; x < width; x += side) {
      if (open[y * width + x] === 0) continue
      queue.push(y * width + x, count++, 0)
      sums.push(0, 0, 0, 0, 0, 0)
    }
  }
  const means = Float64Array.from(sums)
  // A difference of 10 weighs as much as the way to the next seed.
  const perColour = 1 / 100
  const perPlace = 1 / (side * side)
  while (queue.pop()) {
    const p = queue.pixel
    const cell = queue.cell
    if (of[p] !== outside) continue
    of[p] = cell
    const x = p % width
    const y = (p - x) / width
    const m = 6 * cell
    const n = (means[m + 5]! += 1)
    const share = 1 / n
    means[m]! += (lab[3 * p]! - means[m]!) * share
    means[m + 1]! += (lab[3 * p + 1]! - means[m + 1]!) * share
    means[m + 2]! += (lab[3 * p + 2]! - means[m + 2]!) * share
    means[m + 3]! += (x - means[m + 3]!) * share
    means[m + 4]! += (y - means[m + 4]!) * share
    for (let side4 = 0; side4 < 4; side4++) {
      const nx = x + (side4 === 0 ? 1 : side4 === 1 ? -1 : 0)
      const ny = y + (side4 === 2 ? 1 : side4 === 3 ? -1 : 0)
      if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue
      const q = ny * width + nx
      if (of[q] !== outside || open[q] === 0) continue
      const dL = (lab[3 * q]! - means[m]!) * lightnessWeight
      const da = lab[3 * q + 1]! - means[m + 1]!
      const db = lab[3 * q + 2]! - means[m + 2]!
      const dx = nx - means[m + 3]!
      const dy = ny - means[m + 4]!
      queue.push(q, cell, (dL * dL + da * da + db * db) * perColour + (dx * dx + dy * dy) * perPlace)
    }
  }
  return { of, count }
}

/** A queue by distance, in steps fine enough for cells: what falls into one step comes out last first. */
class Queue {
  pixel = 0
  cell = 0
  private readonly first = new Int32Array(2048).fill(-1)
  private readonly next: Int32Array
  private readonly pixels: Int32Array
  private readonly cells: Int32Array
  private size = 0
  private lowest = 0

  constructor(capacity: number) {
    this.next = new Int32Array(capacity)
    this.pixels = new Int32Array(capacity)
    this.cells = new Int32Array(capacity)
  }

  push(pixel: number, cell: number, distance: number): void {
    const step = Math.min(this.first.length - 1, Math.floor(Math.sqrt(distance) * 128))
    const at = this.size++
    this.pixels[at] = pixel
    this.cells[at] = cell
    this.next[at] = this.first[step]!
    this.first[step] = at
    if (step < this.lowest) this.lowest = step
  }

  pop(): boolean {
    while (this.lowest < this.first.length && this.first[this.lowest] === -1) this.lowest++
    if (this.lowest === this.first.length) return false
    const at = this.first[this.lowest]!
    this.first[this.lowest] = this.next[at]!
    this.pixel = this.pixels[at]!
    this.cell = this.cells[at]!
    return true
  }
}

/** Which cells touch: for a cell i the neighbours to[k] along length[k] pixels, k from start[i] to start[i + 1]. */
export interface Borders {
  readonly start: Int32Array
  readonly to: Int32Array
  readonly length: Float32Array
}

export function bordersOf({ of, count }: Cells, width: number): Borders {
  const pairs = new Uint32Array(4 * of.length)
  let n = 0
  for (let p = 0; p < of.length; p++) {
    const a = of[p]!
    if (a === outside) continue
    const right = (p + 1) % width === 0 ? outside : of[p + 1]!
    const below = p + width < of.length ? of[p + width]! : outside
    if (right !== outside && right !== a) {
      pairs[n++] = a * count + right
      pairs[n++] = right * count + a
    }
    if (below !== outside && below !== a) {
      pairs[n++] = a * count + below
      pairs[n++] = below * count + a
    }
  }
  const sorted = pairs.subarray(0, n).sort()
  const start = new Int32Array(count + 1)
  const to: number[] = []
  const length: number[] = []
  for (let i = 0; i < n; ) {
    let j = i
    while (j < n && sorted[j] === sorted[i]) j++
    const pair = sorted[i]!
    to.push(pair % count)
    length.push(j - i)
    start[Math.floor(pair / count) + 1] = to.length
    i = j
  }
  for (let i = 1; i <= count; i++) if (start[i]! === 0) start[i] = start[i - 1]!
  return { start, to: Int32Array.from(to), length: Float32Array.from(length) }
}

/** How cells joined: node i below the number of cells is a cell, node cells + k came of the kth joining. */
export interface Tree {
  readonly cells: number
  readonly nodes: number
  readonly left: Int32Array
  readonly right: Int32Array
  readonly parent: Int32Array
  /** Cells in such an order that those of node i are order[from[i]] to order[to[i] - 1]. */
  readonly order: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
}

/** Joins neighbours until none are left. colours holds L, a, b of each cell, sizes its pixels. */
export function joined(borders: Borders, colours: Float64Array, sizes: Float64Array): Tree {
  const cells = sizes.length
  const most = 2 * cells
  const left = new Int32Array(most).fill(-1)
  const right = new Int32Array(most).fill(-1)
  const parent = new Int32Array(most).fill(-1)
  const colour = new Float64Array(3 * most)
  colour.set(colours)
  const size = new Float64Array(most)
  size.set(sizes)
  const near: (Set<number> | undefined)[] = []
  const heap = new PairHeap()
  const cost = (i: number, j: number): number => {
    const dL = (colour[3 * i]! - colour[3 * j]!) * lightnessWeight
    const da = colour[3 * i + 1]! - colour[3 * j + 1]!
    const db = colour[3 * i + 2]! - colour[3 * j + 2]!
    return (dL * dL + da * da + db * db) * ((size[i]! * size[j]!) / (size[i]! + size[j]!))
  }
  for (let i = 0; i < cells; i++) {
    const around = new Set<number>()
    for (let k = borders.start[i]!; k < borders.start[i + 1]!; k++) {
      const j = borders.to[k]!
      around.add(j)
      if (i < j) heap.push(cost(i, j), i, j)
    }
    near.push(around)
  }
  let nodes = cells
  for (let pair = heap.pop(); pair !== undefined; pair = heap.pop()) {
    const [i, j] = pair
    if (parent[i] !== -1 || parent[j] !== -1) continue
    const node = nodes++
    left[node] = i
    right[node] = j
    parent[i] = parent[j] = node
    size[node] = size[i]! + size[j]!
    for (let c = 0; c < 3; c++) colour[3 * node + c] = (colour[3 * i + c]! * size[i]! + colour[3 * j + c]! * size[j]!) / size[node]!
    const [fewer, more] = near[i]!.size < near[j]!.size ? [near[i]!, near[j]!] : [near[j]!, near[i]!]
    for (const k of fewer) more.add(k)
    more.delete(i)
    more.delete(j)
    near[i] = near[j] = undefined
    near[node] = more
    for (const k of more) {
      const around = near[k]!
      around.delete(i)
      around.delete(j)
      around.add(node)
      heap.push(cost(node, k), node, k)
    }
  }
  return { cells, nodes, left, right, parent, ...ordered(cells, nodes, left, right, parent) }
}

function ordered(cells: number, nodes: number, left: Int32Array, right: Int32Array, parent: Int32Array): Pick<Tree, 'order' | 'from' | 'to'> {
  const order = new Int32Array(cells)
  const from = new Int32Array(nodes)
  const to = new Int32Array(nodes)
  const held = new Int32Array(nodes).fill(1, 0, cells)
  for (let i = cells; i < nodes; i++) held[i] = held[left[i]!]! + held[right[i]!]!
  let placed = 0
  for (let i = nodes - 1; i >= 0; i--) {
    if (parent[i] === -1) {
      from[i] = placed
      placed += held[i]!
    }
    to[i] = from[i]! + held[i]!
    if (i < cells) {
      order[from[i]!] = i
    } else {
      from[left[i]!] = from[i]!
      from[right[i]!] = from[i]! + held[left[i]!]!
    }
  }
  return { order, from, to }
}

/** A heap of pairs of nodes, the cheapest first. */
class PairHeap {
  private readonly costs: number[] = []
  private readonly firsts: number[] = []
  private readonly seconds: number[] = []

  push(cost: number, i: number, j: number): void {
    const { costs, firsts, seconds } = this
    let at = costs.length
    costs.push(cost)
    firsts.push(i)
    seconds.push(j)
    while (at > 0) {
      const up = (at - 1) >> 1
      if (costs[up]! <= cost) break
      this.move(up, at)
      at = up
    }
    this.put(at, cost, i, j)
  }

  pop(): readonly [number, number] | undefined {
    const { costs, firsts, seconds } = this
    if (costs.length === 0) return undefined
    const top: readonly [number, number] = [firsts[0]!, seconds[0]!]
    const cost = costs.pop()!
    const i = firsts.pop()!
    const j = seconds.pop()!
    const size = costs.length
    if (size === 0) return top
    let at = 0
    for (;;) {
      let down = 2 * at + 1
      if (down >= size) break
      if (down + 1 < size && costs[down + 1]! < costs[down]!) down++
      if (costs[down]! >= cost) break
      this.move(down, at)
      at = down
    }
    this.put(at, cost, i, j)
    return top
  }

  private move(from: number, to: number): void {
    this.put(to, this.costs[from]!, this.firsts[from]!, this.seconds[from]!)
  }

  private put(at: number, cost: number, i: number, j: number): void {
    this.costs[at] = cost
    this.firsts[at] = i
    this.seconds[at] = j
  }
}
