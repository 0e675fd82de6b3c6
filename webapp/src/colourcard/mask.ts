// Sets of pixels of an image: smoothed, their connected parts, without holes, and traced around.

/** 1 for the pixels of the set, 0 for the others, by rows. */
export interface Mask {
  readonly width: number
  readonly height: number
  readonly on: Uint8Array
}

/** The mean of values over squares of 2 radius + 1 pixels, twice: nearly round. Beyond the border they go on as at it. */
export function blurred(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  if (radius < 1) return values
  const line = new Float32Array(Math.max(width, height))
  const out = Float32Array.from(values)
  for (let y = 0; y < height; y++) {
    boxed(out, y * width, 1, width, radius, line)
    boxed(out, y * width, 1, width, radius, line)
  }
  for (let x = 0; x < width; x++) {
    boxed(out, x, width, height, radius, line)
    boxed(out, x, width, height, radius, line)
  }
  return out
}

function boxed(values: Float32Array, start: number, stride: number, n: number, radius: number, line: Float32Array): void {
  for (let i = 0; i < n; i++) line[i] = values[start + i * stride]!
  const share = 1 / (2 * radius + 1)
  let sum = 0
  for (let i = -radius; i <= radius; i++) sum += line[Math.min(n - 1, Math.max(0, i))]!
  for (let i = 0; i < n; i++) {
    values[start + i * stride] = sum * share
    sum += line[Math.min(n - 1, i + radius + 1)]! - line[Math.max(0, i - radius)]!
  }
}

/** Where the values exceed the limit. */
export function above(values: Float32Array, width: number, height: number, limit: number): Mask {
  const on = new Uint8Array(values.length)
  for (let p = 0; p < on.length; p++) on[p] = values[p]! > limit ? 1 : 0
  return { width, height, on }
}

/** The connected part (side by side) that weighs most, where a pixel weighs its weight, or 1. */
export function heaviest({ width, height, on }: Mask, weights?: Float32Array): Mask {
  const flood = new Flood(on, width, height)
  let best = 0
  let most = 0
  for (let p = 0; p < on.length; p++) {
    if (on[p] === 0 || flood.part[p] !== 0) continue
    const size = flood.from(p)
    let weight = size
    if (weights !== undefined) {
      weight = 0
      for (let k = 0; k < size; k++) weight += weights[flood.reached[k]!]!
    }
    if (weight > most) {
      most = weight
      best = flood.parts
    }
  }
  const part = new Uint8Array(on.length)
  if (best > 0) for (let p = 0; p < part.length; p++) part[p] = flood.part[p] === best ? 1 : 0
  return { width, height, on: part }
}

/** The mask and all that it encloses. */
export function withoutHoles({ width, height, on }: Mask): Mask {
  const flood = new Flood(on, width, height)
  const start = (p: number) => {
    if (on[p] === 0 && flood.part[p] === 0) flood.from(p)
  }
  for (let x = 0; x < width; x++) {
    start(x)
    start(on.length - width + x)
  }
  for (let y = 0; y < height; y++) {
    start(y * width)
    start(y * width + width - 1)
  }
  const filled = new Uint8Array(on.length)
  for (let p = 0; p < filled.length; p++) filled[p] = flood.part[p] === 0 ? 1 : 0
  return { width, height, on: filled }
}

/**
 * The mask without what hangs on to it by a neck: where no disc gets to that lies in the mask, has at least the
 * radius and can be pushed there from where most of it is. Parts that are not larger than allowed, corners, stay.
 * The radius is given in parts of that of the largest disc in the mask, allowed in parts of the mask.
 */
export function withoutAppendages({ width, height, on }: Mask, radius: number, allowed: number): Mask {
  const depth = distances(on, width, height, 0)
  let [deepest, all] = [0, 0]
  for (let p = 0; p < on.length; p++) {
    if (depth[p]! > deepest) deepest = depth[p]!
    all += on[p]!
  }
  const reach = radius * deepest
  const core = new Uint8Array(on.length)
  for (let p = 0; p < core.length; p++) core[p] = depth[p]! > reach ? 1 : 0
  const away = distances(heaviest({ width, height, on: core }).on, width, height, 1)
  const rest = new Uint8Array(on.length)
  for (let p = 0; p < rest.length; p++) rest[p] = on[p] === 1 && away[p]! > reach ? 1 : 0
  const kept = Uint8Array.from(on)
  const flood = new Flood(rest, width, height)
  for (let p = 0; p < rest.length; p++) {
    if (rest[p] === 0 || flood.part[p] !== 0) continue
    const size = flood.from(p)
    if (size > allowed * all) for (let k = 0; k < size; k++) kept[flood.reached[k]!] = 0
  }
  return { width, height, on: kept }
}

/** How far each pixel is from the nearest of a value, in chamfer steps of 1 and 1.4; far away where there is none. */
function distances(on: Uint8Array, width: number, height: number, value: number): Float32Array {
  const far = new Float32Array(on.length)
  for (let p = 0; p < far.length; p++) far[p] = on[p] === value ? 0 : 1e6
  for (let y = 0, p = 0; y < height; y++) {
    for (let x = 0; x < width; x++, p++) {
      let d = far[p]!
      if (x > 0) d = Math.min(d, far[p - 1]! + 1)
      if (y > 0) {
        d = Math.min(d, far[p - width]! + 1)
        if (x > 0) d = Math.min(d, far[p - width - 1]! + 1.4)
        if (x < width - 1) d = Math.min(d, far[p - width + 1]! + 1.4)
      }
      far[p] = d
    }
  }
  for (let y = height - 1, p = far.length - 1; y >= 0; y--) {
    for (let x = width - 1; x >= 0; x--, p--) {
      let d = far[p]!
      if (x < width - 1) d = Math.min(d, far[p + 1]! + 1)
      if (y < height - 1) {
        d = Math.min(d, far[p + width]! + 1)
        if (x > 0) d = Math.min(d, far[p + width - 1]! + 1.4)
        if (x < width - 1) d = Math.min(d, far[p + width + 1]! + 1.4)
      }
      far[p] = d
    }
  }
  return far
}

/** Numbers the connected parts of what is alike. */
class Flood {
  /** Of each pixel, from 1 on; 0 where none has come yet. */
  readonly part: Int32Array
  /** The pixels of the last part. */
  readonly reached: Int32Array
  parts = 0

  constructor(private readonly on: Uint8Array, private readonly width: number, private readonly height: number) {
    this.part = new Int32Array(on.length)
    this.reached = new Int32Array(on.length)
  }

  /** How many pixels hang together with this one. */
  from(start: number): number {
    const { on, part, reached, width } = this
    const name = ++this.parts
    const value = on[start]
    const last = width * (this.height - 1)
    let size = 1
    reached[0] = start
    part[start] = name
    for (let k = 0; k < size; k++) {
      const p = reached[k]!
      const x = p % width
      if (x > 0 && part[p - 1] === 0 && on[p - 1] === value) {
        part[p - 1] = name
        reached[size++] = p - 1
      }
      if (x < width - 1 && part[p + 1] === 0 && on[p + 1] === value) {
        part[p + 1] = name
        reached[size++] = p + 1
      }
      if (p >= width && part[p - width] === 0 && on[p - width] === value) {
        part[p - width] = name
        reached[size++] = p - width
      }
      if (p < last && part[p + width] === 0 && on[p + width] === value) {
        part[p + width] = name
        reached[size++] = p + width
      }
    }
    return size
  }
}

/**
 * The outer outline of a connected mask along the edges of its pixels, clockwise as seen with y down: x and y of
 * each corner in turn, where the upper left pixel's upper left corner is 0, 0.
 */
export function traced({ width, height, on }: Mask): Float64Array {
  const first = on.indexOf(1)
  if (first < 0) return new Float64Array(0)
  const has = (x: number, y: number): boolean => x >= 0 && y >= 0 && x < width && y < height && on[y * width + x] === 1
  const points: number[] = []
  const startX = first % width
  const startY = (first - startX) / width
  let x = startX
  let y = startY
  // To the right, down, left, up; the mask is on the right hand.
  let heading = 0
  do {
    points.push(x, y)
    const [dx, dy] = [[1, 0], [0, 1], [-1, 0], [0, -1]][heading] as [number, number]
    x += dx
    y += dy
    const ahead = { right: pixelAhead(x, y, heading, true), left: pixelAhead(x, y, heading, false) }
    if (!has(ahead.right[0], ahead.right[1])) heading = (heading + 1) % 4
    else if (has(ahead.left[0], ahead.left[1])) heading = (heading + 3) % 4
  } while (x !== startX || y !== startY || heading !== 0)
  return Float64Array.from(points)
}

/** The pixel before a corner, on the right or the left hand of who comes to it under the heading. */
function pixelAhead(x: number, y: number, heading: number, right: boolean): readonly [number, number] {
  switch (heading) {
    case 0: return right ? [x, y] : [x, y - 1]
    case 1: return right ? [x - 1, y] : [x, y]
    case 2: return right ? [x - 1, y - 1] : [x - 1, y]
    default: return right ? [x, y - 1] : [x - 1, y - 1]
  }
}
