// A head's outline to a fraction of a pixel: where, across it, half of the light has changed from the head's to
// that around it.

import type { HeadMask } from './headmask'
import { traced } from './mask'
import type { Picture } from './picture'

export interface Outline {
  /** x and y of each point in pixels of the photo, all the way round. */
  readonly points: Float64Array
  /** Standard uncertainty of a point across the outline, in pixels of the photo, and over how many points its error runs on. */
  readonly se: number
  readonly together: number
}

/** Points of an outline. */
const count = 240

/** closed says which places of the photo tell nothing of the head's surroundings, since the card lies there. */
export function outlineOf(picture: Picture, head: HeadMask, closed: (x: number, y: number) => boolean): Outline {
  const rough = evenly(traced(head.mask), count)
  for (let k = 0; k < rough.length; k += 2) {
    rough[k] = head.image.left + rough[k]! * head.image.step
    rough[k + 1] = head.image.top + rough[k + 1]! * head.image.step
  }
  const first = moved(picture, rough, reachOf(rough, head.image.step, 0.06), closed)
  return moved(picture, first.points, reachOf(first.points, head.image.step, 0.035), closed)
}

function reachOf(points: Float64Array, step: number, part: number): number {
  return Math.max(2 + 1.5 * step, part * Math.sqrt((4 * Math.abs(areaOf(points))) / Math.PI))
}

export function areaOf(points: Float64Array): number {
  let twice = 0
  for (let i = 0, n = points.length; i < n; i += 2) {
    const j = (i + 2) % n
    twice += points[i]! * points[j + 1]! - points[j]! * points[i + 1]!
  }
  return twice / 2
}

/** As many points at even distances along a closed line, each the mean of what lies about it. */
function evenly(line: Float64Array, points: number): Float64Array {
  const n = line.length / 2
  const along = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n
    along[i + 1] = along[i]! + Math.hypot(line[2 * j]! - line[2 * i]!, line[2 * j + 1]! - line[2 * i + 1]!)
  }
  const fine = 4 * points
  const out = new Float64Array(2 * fine)
  for (let k = 0, i = 0; k < fine; k++) {
    const at = (along[n]! * k) / fine
    while (along[i + 1]! < at) i++
    const j = (i + 1) % n
    const part = (at - along[i]!) / Math.max(1e-9, along[i + 1]! - along[i]!)
    out[2 * k] = line[2 * i]! + part * (line[2 * j]! - line[2 * i]!)
    out[2 * k + 1] = line[2 * i + 1]! + part * (line[2 * j + 1]! - line[2 * i + 1]!)
  }
  // A staircase of pixels has steps some pixels long.
  const radius = Math.max(2, Math.round((2.5 * fine) / along[n]!))
  const sparse = new Float64Array(2 * points)
  for (let k = 0; k < points; k++) {
    for (let c = 0; c < 2; c++) {
      let sum = 0
      for (let d = -radius; d <= radius; d++) sum += out[2 * ((4 * k + d + fine) % fine) + c]!
      sparse[2 * k + c] = sum / (2 * radius + 1)
    }
  }
  return sparse
}

function moved(picture: Picture, points: Float64Array, reach: number, closed: (x: number, y: number) => boolean): Outline {
  const n = points.length / 2
  const normals = normalsOf(points)
  const spacing = Math.max(picture.step, reach / 12)
  const half = Math.round(reach / spacing)
  const profiles: Profiles = { n, half, wide: 2 * half + 1, light: sampled(picture, points, normals, half, spacing) }
  const sides = sidesOf(profiles)
  const steps = stepsOf(profiles, sides)
  const soft = softness(profiles, sides, steps)
  const offsets = new Float64Array(n)
  const trusted = new Uint8Array(n)
  for (let i = 0; i < n; i++) {
    const offset = crossing(profiles, sides, i, steps[i]!, soft)
    const [x, y] = [points[2 * i]! + normals[2 * i]! * reach, points[2 * i + 1]! + normals[2 * i + 1]! * reach]
    const seen = x > 0 && y > 0 && x < picture.width * picture.step && y < picture.height * picture.step && !closed(x, y)
    trusted[i] = seen && offset !== undefined ? 1 : 0
    offsets[i] = trusted[i] === 1 ? offset! * spacing : 0
  }
  const even = evened(offsets, trusted)
  const out = new Float64Array(points.length)
  for (let k = 0; k < out.length; k++) out[k] = points[k]! + normals[k]! * even[k >> 1]!
  let squares = 0
  let unseen = 0
  for (let i = 0; i < n; i++) {
    if (trusted[i] === 1) squares += (offsets[i]! - even[i]!) ** 2
    else unseen++
  }
  return { points: out, se: Math.sqrt((squares + (unseen * reach * reach) / 9) / n), together: 4 }
}

/** The light across an outline: of each of its n points wide places from within to without, the middle one on it. */
interface Profiles {
  readonly n: number
  readonly half: number
  readonly wide: number
  readonly light: Float32Array
}

/** Outward unit normals of a line that runs clockwise as seen with y down. */
function normalsOf(points: Float64Array): Float64Array {
  const n = points.length / 2
  const normals = new Float64Array(points.length)
  for (let i = 0; i < n; i++) {
    const [a, b] = [(i + n - 2) % n, (i + 2) % n]
    const dx = points[2 * b]! - points[2 * a]!
    const dy = points[2 * b + 1]! - points[2 * a + 1]!
    const long = Math.hypot(dx, dy) || 1
    normals[2 * i] = dy / long
    normals[2 * i + 1] = -dx / long
  }
  return normals
}

/** The light along each normal from within to without, r, g, b of each place. */
function sampled(picture: Picture, points: Float64Array, normals: Float64Array, half: number, spacing: number): Float32Array {
  const n = points.length / 2
  const wide = 2 * half + 1
  const out = new Float32Array(3 * n * wide)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < wide; k++) {
      const away = (k - half) * spacing
      const x = points[2 * i]! + normals[2 * i]! * away
      const y = points[2 * i + 1]! + normals[2 * i + 1]! * away
      takeLight(picture, x, y, out, 3 * (i * wide + k))
    }
  }
  return out
}

/** Between the four nearest pixels. */
function takeLight({ light, width, height, step }: Picture, x: number, y: number, out: Float32Array, at: number): void {
  const left = Math.min(width - 1.001, Math.max(0, x / step - 0.5))
  const top = Math.min(height - 1.001, Math.max(0, y / step - 0.5))
  const [i, j] = [Math.floor(left), Math.floor(top)]
  const [u, v] = [left - i, top - j]
  const p = 3 * (j * width + i)
  const q = p + 3 * width
  for (let c = 0; c < 3; c++) {
    const upper = light[p + c]! * (1 - u) + light[p + 3 + c]! * u
    const lower = light[q + c]! * (1 - u) + light[q + 3 + c]! * u
    out[at + c] = upper * (1 - v) + lower * v
  }
}

/** What the light is like within and without, near each point: the mean and the variance of each channel. */
interface Sides {
  readonly within: Float64Array
  readonly without: Float64Array
}

/** Points to either side whose profiles tell what the light is like near one. */
const near = 1 / 16

function sidesOf({ n, half, wide, light }: Profiles): Sides {
  const edge = half >> 2
  return { within: sideOf(light, n, wide, 0, half - edge), without: sideOf(light, n, wide, half + 1 + edge, wide) }
}

function sideOf(light: Float32Array, n: number, wide: number, from: number, to: number): Float64Array {
  const sums = new Float64Array(6 * n)
  for (let i = 0; i < n; i++) {
    for (let k = from; k < to; k++) {
      for (let c = 0; c < 3; c++) {
        const v = light[3 * (i * wide + k) + c]!
        sums[6 * i + c]! += v
        sums[6 * i + 3 + c]! += v * v
      }
    }
  }
  const out = new Float64Array(6 * n)
  const span = Math.round(n * near)
  const count = (2 * span + 1) * (to - from)
  for (let c = 0; c < 6; c++) {
    let sum = 0
    for (let d = -span; d <= span; d++) sum += sums[6 * ((d + n) % n) + c]!
    for (let i = 0; i < n; i++) {
      out[6 * i + c] = sum / count
      sum += sums[6 * ((i + span + 1) % n) + c]! - sums[6 * ((i - span + n) % n) + c]!
    }
  }
  for (let i = 0; i < n; i++) for (let c = 0; c < 3; c++) out[6 * i + 3 + c] = Math.max(leastVariance, out[6 * i + 3 + c]! - out[6 * i + c]! ** 2)
  return out
}

/** Noise and JPEG leave so much everywhere. */
const leastVariance = 2e-5
/** One place tells no more than this, in natural logarithms, or one leaf would outweigh all else. */
const mostEvidence = 3
/** What it costs that two neighbours' steps lie one place apart. */
const bending = 0.6

/**
 * Where each profile leaves the head: how many of its places are within. The line of them that is likeliest as a whole,
 * where light within and without is distributed normally and neighbours do not lie far apart (dynamic programming).
 */
function stepsOf({ n, half, wide, light }: Profiles, { within, without }: Sides): Int32Array {
  const places = wide + 1
  // Once round and a bit, so that it closes.
  const more = n >> 2
  const rounds = n + 2 * more
  const from = new Int16Array(rounds * places)
  let best = new Float64Array(places)
  let next = new Float64Array(places)
  const own = new Float64Array(places)
  for (let t = 0; t < rounds; t++) {
    const i = (t - more + n) % n
    evidence(light, 3 * i * wide, wide, within, without, 6 * i, own)
    for (let e = 0; e < places; e++) {
      let most = -Infinity
      let at = e
      for (let d = Math.max(0, e - 3); d <= Math.min(places - 1, e + 3); d++) {
        const v = best[d]! - bending * (e - d) * (e - d)
        if (v > most) {
          most = v
          at = d
        }
      }
      next[e] = most + own[e]! - 0.01 * (e - half - 0.5) ** 2
      from[t * places + e] = at
    }
    ;[best, next] = [next, best]
  }
  const steps = new Int32Array(n)
  let e = best.indexOf(Math.max(...best))
  for (let t = rounds - 1; t >= more; t--) {
    if (t < more + n) steps[t - more] = e
    e = from[t * places + e]!
  }
  return steps
}

/** How much speaks for the first e places being within and the others without, for each e. */
function evidence(light: Float32Array, start: number, wide: number, within: Float64Array, without: Float64Array, at: number, out: Float64Array): void {
  let sum = 0
  out[0] = 0
  for (let k = 0; k < wide; k++) {
    let ratio = 0
    for (let c = 0; c < 3; c++) {
      const v = light[start + 3 * k + c]!
      const [m, s] = [within[at + c]!, within[at + 3 + c]!]
      const [n, t] = [without[at + c]!, without[at + 3 + c]!]
      ratio += (v - n) ** 2 / t - (v - m) ** 2 / s + Math.log(t / s)
    }
    sum += Math.min(mostEvidence, Math.max(-mostEvidence, ratio / 2))
    out[k + 1] = sum
  }
}

/** How many places before and behind the steps light still changes, since the photo is blurred: 3 or more. */
function softness({ n, half, wide, light }: Profiles, { within, without }: Sides, steps: Int32Array): number {
  for (let away = 2; away < half; away++) {
    let [before, behind, contrast] = [0, 0, 0]
    for (let i = 0; i < n; i++) {
      const [k, l] = [Math.max(0, steps[i]! - 1 - away), Math.min(wide - 1, steps[i]! + away)]
      for (let c = 0; c < 3; c++) {
        const [m, o] = [within[6 * i + c]!, without[6 * i + c]!]
        const weight = (m - o) / (within[6 * i + 3 + c]! + without[6 * i + 3 + c]!)
        contrast += weight * (m - o)
        before += weight * (light[3 * (i * wide + k) + c]! - o)
        behind += weight * (light[3 * (i * wide + l) + c]! - o)
      }
    }
    if (behind < 0.1 * contrast && before > 0.9 * contrast) return away + 1
  }
  return half
}

/**
 * A profile's step to a fraction of a place, counted from the outline: near it the sum of what is the head's tells
 * where it is, since blur moves no light across it. undefined where within and without can hardly be told apart.
 */
function crossing({ n, half, wide, light }: Profiles, { within }: Sides, i: number, step: number, soft: number): number | undefined {
  const reach = Math.min(soft, step, wide - step)
  if (reach < 1) return undefined
  // What lies just without, which may be only a leaf wide.
  const outer = [0, 0, 0]
  let count = 0
  for (let d = -2; d <= 2; d++) {
    const j = (i + d + n) % n
    for (let k = Math.min(wide - 2, step + soft - 1); k < Math.min(wide, step + soft + 2); k++, count++) {
      for (let c = 0; c < 3; c++) outer[c]! += light[3 * (j * wide + k) + c]!
    }
  }
  let contrast = 0
  const weights = outer.map((sum, c) => {
    const difference = within[6 * i + c]! - sum / count
    const weight = difference / within[6 * i + 3 + c]!
    contrast += weight * difference
    return weight
  })
  if (contrast < 2) return undefined
  let head = 0
  for (let k = step - reach; k < step + reach; k++) {
    for (let c = 0; c < 3; c++) head += (weights[c]! * (light[3 * (i * wide + k) + c]! - outer[c]! / count)) / contrast
  }
  return step - reach + Math.min(2 * reach, Math.max(0, head)) - half - 0.5
}

/** Offsets with the median of five put for each, then the mean of three; what is not trusted takes its neighbours'. */
function evened(offsets: Float64Array, trusted: Uint8Array): Float64Array {
  const n = offsets.length
  const middle = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    const around: number[] = []
    for (let d = -2; d <= 2; d++) if (trusted[(i + d + n) % n] === 1) around.push(offsets[(i + d + n) % n]!)
    around.sort((a, b) => a - b)
    middle[i] = around.length === 0 ? 0 : around[around.length >> 1]!
  }
  return middle.map((_, i) => (middle[(i + n - 1) % n]! + middle[i]! + middle[(i + 1) % n]!) / 3)
}
