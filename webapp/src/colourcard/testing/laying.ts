// What lies in a rendered photo, one thing upon the other: background, tag, head, cards, fingers, drops.

import { D50, xyzOf } from '../../colour/lab'
import { cardHeight, cardWidth } from '../geometry'
import type { Point } from '../measurement'
import { drawBackground, type Background } from './background'
import { headPicture, type Head, type HeadPicture } from './head'
import { applied, throughAll, triple, type Matrix } from './light'
import { planOf, planScale, reflecting, type Print, type Printed } from './printed'
import type { Beside, Chain, Finger, Planes, Spot, Square, Tag } from './scene'
import type { Sight } from './view'

/** Drawn no finer than this, since it is out of focus, and spread over the frame. */
const backgroundWidth = 1200

export function layBackground({ width, height, r, g, b }: Planes, background: Background, { matrix }: Chain): void {
  const by = Math.min(1, backgroundWidth / width)
  const drawing = drawBackground(background, Math.ceil(width * by), Math.ceil(height * by))
  const { xyz } = drawing
  throughAll(matrix, xyz)
  const left = new Int32Array(width)
  const share = new Float32Array(width)
  for (let x = 0; x < width; x++) {
    const u = Math.min(drawing.width - 1.001, Math.max(0, (x + 0.5) * by - 0.5))
    left[x] = 3 * Math.floor(u)
    share[x] = u % 1
  }
  for (let y = 0, at = 0; y < height; y++) {
    const v = Math.min(drawing.height - 1.001, Math.max(0, (y + 0.5) * by - 0.5))
    const t = v % 1
    const upper = 3 * Math.floor(v) * drawing.width
    const lower = upper + 3 * drawing.width
    for (let x = 0; x < width; x++, at++) {
      const s = share[x]!
      const w0 = (1 - s) * (1 - t)
      const w1 = s * (1 - t)
      const w2 = (1 - s) * t
      const w3 = s * t
      const i = upper + left[x]!
      const j = lower + left[x]!
      r[at] = w0 * xyz[i]! + w1 * xyz[i + 3]! + w2 * xyz[j]! + w3 * xyz[j + 3]!
      g[at] = w0 * xyz[i + 1]! + w1 * xyz[i + 4]! + w2 * xyz[j + 1]! + w3 * xyz[j + 4]!
      b[at] = w0 * xyz[i + 2]! + w1 * xyz[i + 5]! + w2 * xyz[j + 2]! + w3 * xyz[j + 5]!
    }
  }
}

/** A colour in the camera's channels, and how much of a sample it covers. */
interface Sample {
  r: number
  g: number
  b: number
}

/** Four places in a pixel, none above or beside another. */
const withinX = [0.375, 0.875, 0.125, 0.625] as const
const withinY = [0.125, 0.375, 0.625, 0.875] as const

/** Lays what lies in a plane over what there is. The look-up says whether there is anything at a place in millimetres. */
function lay({ width, height, r, g, b }: Planes, onto: Matrix, box: Box, at: (x: number, y: number, out: Sample) => boolean): void {
  const out = { r: 0, g: 0, b: 0 }
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = onto
  const [left, right] = [Math.max(0, Math.floor(box.left)), Math.min(width, Math.ceil(box.right))]
  for (let y = Math.max(0, Math.floor(box.top)); y < Math.min(height, Math.ceil(box.bottom)); y++) {
    for (let x = left; x < right; x++) {
      let n = 0
      let sr = 0
      let sg = 0
      let sb = 0
      for (let k = 0; k < 4; k++) {
        const px = x + withinX[k]!
        const py = y + withinY[k]!
        const w = m6 * px + m7 * py + m8
        if (!at((m0 * px + m1 * py + m2) / w, (m3 * px + m4 * py + m5) / w, out)) continue
        n++
        sr += out.r
        sg += out.g
        sb += out.b
      }
      if (n === 0) continue
      const i = y * width + x
      const rest = (4 - n) / 4
      r[i] = rest * r[i]! + sr / 4
      g[i] = rest * g[i]! + sg / 4
      b[i] = rest * b[i]! + sb / 4
    }
  }
}

interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

function boxOf(points: readonly Point[]): Box {
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  return { left: Math.min(...xs) - 1, top: Math.min(...ys) - 1, right: Math.max(...xs) + 1, bottom: Math.max(...ys) + 1 }
}

/** A head, and the share of it that is in the frame and not behind the card. */
interface Laid {
  readonly outline: readonly Point[]
  readonly shown: number
}

export function layHead(planes: Planes, sight: Sight, head: Head, scale: number, { matrix }: Chain): Laid {
  const a = sight.see(head.at.x - 1, head.at.y, head.behind)
  const b = sight.see(head.at.x + 1, head.at.y, head.behind)
  const detail = Math.min(24, Math.max(4, (1.2 * Math.hypot(a.x - b.x, a.y - b.y)) / 2))
  const picture: HeadPicture = headPicture(head, detail)
  const { side, xyz, there } = picture
  throughAll(matrix, xyz)
  const half = side / (2 * detail * scale)
  const box = boxOf([[-half, -half], [half, -half], [half, half], [-half, half]].map(([x, y]) => sight.see(head.at.x + x!, head.at.y + y!, head.behind)))
  const by = detail * scale
  lay(planes, sight.onto(head.behind), box, (x, y, out) => {
    const column = Math.floor((x - head.at.x) * by + side / 2)
    const row = Math.floor((y - head.at.y) * by + side / 2)
    if (column < 0 || row < 0 || column >= side || row >= side) return false
    const i = row * side + column
    if (there[i] === 0) return false
    out.r = xyz[3 * i]!
    out.g = xyz[3 * i + 1]!
    out.b = xyz[3 * i + 2]!
    return true
  })
  return { outline: picture.outline, shown: shownOf(planes, sight, head, picture, scale) }
}

function shownOf({ width, height }: Planes, sight: Sight, head: Head, { side, scale: detail, there }: HeadPicture, scale: number): number {
  let [all, shown] = [0, 0]
  const every = Math.max(1, Math.floor(side / 100))
  for (let row = 0; row < side; row += every) {
    for (let column = 0; column < side; column += every) {
      if (!there[row * side + column]) continue
      all++
      const p = sight.see(head.at.x + (column - side / 2) / (detail * scale), head.at.y + (row - side / 2) / (detail * scale), head.behind)
      if (p.x >= 0 && p.y >= 0 && p.x < width && p.y < height && (head.behind < 0 || !behindCard(sight, p))) shown++
    }
  }
  return shown / all
}

function behindCard(sight: Sight, { x, y }: Point): boolean {
  const [u, v, w] = applied(sight.onto(0), x, y, 1)
  return u / w >= 0 && v / w >= 0 && u / w <= cardWidth && v / w <= cardHeight
}

export function layCard(planes: Planes, sight: Sight, print: Print, out: Printed, { matrix }: Chain, { at, turn }: Pick<Beside, 'at' | 'turn'> = first): void {
  const plan = planOf(print)
  const colours = reflecting(out).map((c) => applied(matrix, ...triple(c)))
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
  const corners = [[0, 0], [cardWidth, 0], [cardWidth, cardHeight], [0, cardHeight]].map(([x, y]) => sight.see(at.x + cos * x! - sin * y!, at.y + sin * x! + cos * y!))
  lay(planes, sight.onto(0), boxOf(corners), (x, y, sample) => {
    const column = Math.floor((cos * (x - at.x) + sin * (y - at.y)) * planScale)
    const row = Math.floor((cos * (y - at.y) - sin * (x - at.x)) * planScale)
    if (column < 0 || row < 0 || column >= plan.width || row >= plan.height) return false
    const colour = colours[plan.what[row * plan.width + column]!]!
    sample.r = colour[0]
    sample.g = colour[1]
    sample.b = colour[2]
    return true
  })
}

const first = { at: { x: 0, y: 0 }, turn: 0 }

export function laySquare(planes: Planes, sight: Sight, { lab, middle, side }: Square, { matrix }: Chain): void {
  const [r, g, b] = applied(matrix, ...triple(xyzOf(lab, D50)))
  const half = side / 2
  const corners = [[-half, -half], [half, -half], [half, half], [-half, half]].map(([x, y]) => sight.see(middle.x + x!, middle.y + y!))
  lay(planes, sight.onto(0), boxOf(corners), (x, y, out) => {
    if (Math.abs(x - middle.x) > half || Math.abs(y - middle.y) > half) return false
    ;[out.r, out.g, out.b] = [r, g, b]
    return true
  })
}

/** A strip of white plastic as internal/tags prints it, an inch wide. */
const tagHalf = 12.7
const tagModule = 0.85

export function layTag(planes: Planes, sight: Sight, { code, at, behind }: Tag, { matrix }: Chain): void {
  const side = Math.sqrt(code.length)
  const [white, black] = [applied(matrix, ...triple(xyzOf({ L: 93, a: 0, b: 1 }, D50))), applied(matrix, ...triple(xyzOf({ L: 18, a: 0, b: 0 }, D50)))]
  const corners = [[-tagHalf, -16], [tagHalf, -16], [tagHalf, 60], [-tagHalf, 60]].map(([x, y]) => sight.see(at.x + x!, at.y + y!, behind))
  lay(planes, sight.onto(behind), boxOf(corners), (x, y, out) => {
    const [u, v] = [x - at.x, y - at.y]
    if (Math.abs(u) > tagHalf || v < -16 || v > 60) return false
    const [column, row] = [Math.floor(u / tagModule + side / 2), Math.floor(v / tagModule + side / 2)]
    const dark = column >= 0 && row >= 0 && column < side && row < side && code[row * side + column]
    ;[out.r, out.g, out.b] = dark ? black : white
    return true
  })
}

/** Half of a finger's width, millimetres. */
const fingerHalf = 8

export function layFinger(planes: Planes, sight: Sight, finger: Finger, { matrix }: Chain): void {
  const [x, y] = [[0, 0], [cardWidth, 0], [cardWidth, cardHeight], [0, cardHeight]][finger.corner]!
  const [inX, inY] = [x === 0 ? 1 : -1, y === 0 ? 1 : -1]
  const slope = Math.hypot(cardWidth, cardHeight)
  const [dx, dy] = [(inX! * cardWidth) / slope, (inY! * cardHeight) / slope]
  const tip = finger.reach - fingerHalf
  const base = xyzOf(finger.skin, D50)
  const [r, g, b] = applied(matrix, base.X, base.Y, base.Z)
  const ends = [-400, finger.reach].flatMap((along) => [-12, 12].map((off) => sight.see(x! + dx * along - dy * off, y! + dy * along + dx * off)))
  lay(planes, sight.onto(0), boxOf(ends), (px, py, out) => {
    const along = Math.min(tip, (px - x!) * dx + (py - y!) * dy)
    if (along < -390) return false
    const away = Math.hypot(px - x! - dx * along, py - y! - dy * along) / fingerHalf
    if (away > 1) return false
    const shade = 0.45 + 0.65 * Math.sqrt(1 - away * away)
    out.r = r * shade
    out.g = g * shade
    out.b = b * shade
    return true
  })
}

/** Bright in its middle, and gone at its radius. */
export function laySpot({ width, height, r, g, b }: Planes, sight: Sight, { at, radius, strength }: Spot, { matrix }: Chain): void {
  const [wr, wg, wb] = applied(matrix, ...triple(D50))
  const onto = sight.onto(0)
  const box = boxOf([[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([x, y]) => sight.see(at.x + radius * x!, at.y + radius * y!)))
  for (let y = Math.max(0, Math.floor(box.top)); y < Math.min(height, box.bottom); y++) {
    for (let x = Math.max(0, Math.floor(box.left)); x < Math.min(width, box.right); x++) {
      const w = onto[6] * (x + 0.5) + onto[7] * (y + 0.5) + onto[8]
      const u = (onto[0] * (x + 0.5) + onto[1] * (y + 0.5) + onto[2]) / w - at.x
      const v = (onto[3] * (x + 0.5) + onto[4] * (y + 0.5) + onto[5]) / w - at.y
      const away = Math.sqrt(u * u + v * v) / radius
      if (away >= 1) continue
      const by = strength * (1 - away * away) ** 2
      r[y * width + x]! += by * wr
      g[y * width + x]! += by * wg
      b[y * width + x]! += by * wb
    }
  }
}
