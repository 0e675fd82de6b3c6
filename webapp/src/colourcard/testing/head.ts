// Flower heads of known colour and size, as small pictures of what they reflect.

import { D50, xyzOf, type Lab, type XYZ } from '../../colour/lab'
import type { Point } from '../measurement'
import { Random } from './random'

export interface Head {
  /** What it reflects on the mean, in linear light, of all that is floret; the flat colour where texture is 0. */
  readonly lab: Lab
  /** A disc; a lobed blob of one piece; or many florets with gaps between, as a corymb is. */
  readonly form: 'disc' | 'lobed' | 'corymb'
  /** Its mean caliper diameter in centimetres. */
  readonly across: number
  /** Its middle in the card's millimetres. */
  readonly at: Point
  /** Millimetres behind the card's plane; below 0 nearer to the camera. */
  readonly behind: number
  /** 0 is flat; at 1 florets differ in lightness by 8 and in a and b by 4 (standard deviations), and are well rounded. */
  readonly texture: number
  readonly seed: number
}

/** What a head reflects, in millimetres about its middle. */
export interface HeadPicture {
  /** Pixels a millimetre, and the pixels of a side; the head's middle is in the middle. */
  readonly scale: number
  readonly side: number
  /** 1 where the head is. */
  readonly there: Uint8Array
  /** X, Y and Z under D50, three a pixel. */
  readonly xyz: Float32Array
  readonly outline: readonly Point[]
}

export function headPicture(head: Head, scale: number): HeadPicture {
  const random = new Random(head.seed)
  return head.form === 'corymb' ? corymb(head, scale, random) : blob(head, scale, random)
}

/**
 * The mean of a shape's breadths over all directions: its hull's length over pi (Cauchy). It is what callipers give on
 * the mean of many turns.
 */
export function meanCaliper(points: readonly Point[]): number {
  const hull = hullOf(points)
  return hull.reduce((sum, p, i) => {
    const q = hull[(i + 1) % hull.length]!
    return sum + Math.hypot(q.x - p.x, q.y - p.y)
  }, 0) / Math.PI
}

/** Andrew's monotone chain. */
export function hullOf(points: readonly Point[]): readonly Point[] {
  const sorted = points.toSorted((p, q) => p.x - q.x || p.y - q.y)
  return [...chain(sorted), ...chain(sorted.toReversed())]
}

function chain(sorted: readonly Point[]): Point[] {
  const kept: Point[] = []
  for (const p of sorted) {
    while (kept.length > 1 && turn(kept[kept.length - 2]!, kept[kept.length - 1]!, p) <= 0) kept.pop()
    kept.push(p)
  }
  kept.pop()
  return kept
}

const turn = (o: Point, p: Point, q: Point) => (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x)

/** How far from the middle a lobed outline lies, in parts of its radius. */
function lobes(random: Random, depth: number): (angle: number) => number {
  const waves = [2, 3, 4, 5, 7].map((k) => ({ k, size: (depth * random.normal()) / Math.sqrt(k), phase: random.between(0, 2 * Math.PI) }))
  return (angle) => 1 + waves.reduce((sum, { k, size, phase }) => sum + size * Math.cos(k * angle + phase), 0)
}

const around = (n: number) => Array.from({ length: n }, (_, i) => (2 * Math.PI * i) / n)

function blob(head: Head, scale: number, random: Random): HeadPicture {
  const reach = head.form === 'disc' ? () => 1 : lobes(random, 0.09)
  const unit = around(720).map((angle) => ({ x: reach(angle) * Math.cos(angle), y: reach(angle) * Math.sin(angle) }))
  const radius = (10 * head.across) / meanCaliper(unit)
  const outline = unit.map(({ x, y }) => ({ x: radius * x, y: radius * y }))
  const picture = empty(outline, scale)
  const uneven = patchy(random)
  paintIf(picture, (x, y) => Math.hypot(x, y) <= radius * reach(Math.atan2(y, x)))
  shadeAll(picture, head, (x, y) => 1 + head.texture * (0.25 * uneven(x / 6, y / 6) - 0.2 * (x * x + y * y) / (radius * radius)))
  return picture
}

function paintIf({ side, scale, there }: HeadPicture, inside: (x: number, y: number) => boolean): void {
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      if (inside((column + 0.5 - side / 2) / scale, (row + 0.5 - side / 2) / scale)) there[row * side + column] = 1
    }
  }
}

function shadeAll(picture: HeadPicture, head: Head, shade: (x: number, y: number) => number): void {
  const { side, scale, there, xyz } = picture
  const base = xyzOf(head.lab, D50)
  for (let i = 0; i < there.length; i++) {
    if (!there[i]) continue
    const by = head.texture > 0 ? shade(((i % side) + 0.5 - side / 2) / scale, (Math.floor(i / side) + 0.5 - side / 2) / scale) : 1
    xyz[3 * i] = base.X * by
    xyz[3 * i + 1] = base.Y * by
    xyz[3 * i + 2] = base.Z * by
  }
  if (head.texture > 0) meanTo(picture, base, there)
}

interface Floret {
  readonly x: number
  readonly y: number
  readonly radius: number
}

const golden = Math.PI * (3 - Math.sqrt(5))

/** Florets as thick as they stand in a flat head, spiralling outwards, so that few gaps are left. */
function corymb(head: Head, scale: number, random: Random): HeadPicture {
  const size = random.between(2.4, 3.4)
  const reach = lobes(random, 0.05)
  const edge = 5 * head.across - 0.8 * size
  const n = Math.max(7, Math.round((Math.PI * edge * edge) / (1.9 * size * size)))
  const unit = Array.from({ length: n }, (_, i) => {
    const [r, angle] = [Math.sqrt((i + 0.5) / n), i * golden]
    const jitter = 0.25 * size / edge
    return { x: r * reach(angle) * Math.cos(angle) + jitter * random.normal(), y: r * reach(angle) * Math.sin(angle) + jitter * random.normal(), size: size * random.between(0.85, 1.15) }
  })
  const florets = spreadTo(unit, edge, 10 * head.across)
  const outline = rim(florets)
  const picture = empty(florets.flatMap(edgeOf), scale)
  const stalks = { L: 24, a: -7, b: 13 }
  const within = 0.92 * edge
  paintIf(picture, (x, y) => Math.hypot(x, y) < within * reach(Math.atan2(y, x)) - size)
  const dark = xyzOf(stalks, D50)
  for (let i = 0; i < picture.there.length; i++) if (picture.there[i]) picture.xyz.set([dark.X, dark.Y, dark.Z], 3 * i)
  const floret = new Uint8Array(picture.there.length)
  for (const one of florets.toSorted(() => random.next() - 0.5)) paintFloret(picture, floret, head, one, edge, random)
  meanTo(picture, xyzOf(head.lab, D50), floret)
  return { ...picture, outline }
}

/** Brings florets so far apart that their hull has the mean breadth asked for. */
function spreadTo(unit: readonly (Point & { readonly size: number })[], first: number, breadth: number): readonly Floret[] {
  let by = first
  let florets: Floret[] = []
  for (let i = 0; i < 6; i++) {
    florets = unit.map(({ x, y, size }) => ({ x: by * x, y: by * y, radius: size }))
    by += (breadth - meanCaliper(florets.flatMap(edgeOf))) / 2
  }
  return florets
}

const edgeOf = ({ x, y, radius }: Floret): readonly Point[] => around(48).map((angle) => ({ x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) }))

/** How far florets reach in each direction. */
function rim(florets: readonly Floret[]): readonly Point[] {
  const far = new Float64Array(180)
  for (const { x, y } of florets.flatMap(edgeOf)) {
    const i = Math.floor(((Math.atan2(y, x) / (2 * Math.PI) + 1) % 1) * far.length)
    far[i] = Math.max(far[i]!, Math.hypot(x, y))
  }
  return around(far.length).map((angle, i) => {
    const middle = angle + Math.PI / far.length
    return { x: far[i]! * Math.cos(middle), y: far[i]! * Math.sin(middle) }
  })
}

function paintFloret({ side, scale, there, xyz }: HeadPicture, floret: Uint8Array, head: Head, { x, y, radius }: Floret, edge: number, random: Random): void {
  const t = head.texture
  const own = (sd: number) => t * sd * random.normal()
  const base = { L: head.lab.L + own(8), a: head.lab.a + own(4), b: head.lab.b + own(4) }
  const petal = xyzOf(base, D50)
  const eye = xyzOf({ L: base.L + 6 * t, a: base.a * (1 - 0.25 * t), b: base.b + 8 * t }, D50)
  const [leanX, leanY, turned] = [0.15 * t * random.normal(), 0.15 * t * random.normal(), random.between(0, 6.3)]
  const sunk = 1 - (0.15 * t * (x * x + y * y)) / (edge * edge)
  const [middleX, middleY] = [x * scale + side / 2, y * scale + side / 2]
  const r = radius * scale
  for (let row = Math.max(0, Math.floor(middleY - r)); row <= Math.min(side - 1, middleY + r); row++) {
    for (let column = Math.max(0, Math.floor(middleX - r)); column <= Math.min(side - 1, middleX + r); column++) {
      const u = (column + 0.5 - middleX) / r
      const v = (row + 0.5 - middleY) / r
      const away = Math.hypot(u, v)
      // The outermost of a petal reaches the circle, so that the hull is that of the circles but for a little.
      if (away > 0.9 + 0.1 * Math.abs(Math.cos(2.5 * Math.atan2(v, u) + turned))) continue
      const i = row * side + column
      const shade = Math.max(0.2, sunk * (1 + leanX * u + leanY * v - 0.3 * t * away * away))
      const c = away < 0.3 ? eye : petal
      there[i] = 1
      floret[i] = 1
      xyz[3 * i] = Math.max(0, c.X * shade)
      xyz[3 * i + 1] = Math.max(0, c.Y * shade)
      xyz[3 * i + 2] = Math.max(0, c.Z * shade)
    }
  }
}

/** Scales what is chosen so that its mean is as asked. */
function meanTo({ xyz }: HeadPicture, want: XYZ, chosen: Uint8Array): void {
  let [n, x, y, z] = [0, 0, 0, 0]
  for (let i = 0; i < chosen.length; i++) {
    if (!chosen[i]) continue
    n++
    x += xyz[3 * i]!
    y += xyz[3 * i + 1]!
    z += xyz[3 * i + 2]!
  }
  const [byX, byY, byZ] = [(want.X * n) / x, (want.Y * n) / y, (want.Z * n) / z]
  for (let i = 0; i < chosen.length; i++) {
    if (!chosen[i]) continue
    xyz[3 * i]! *= byX
    xyz[3 * i + 1]! *= byY
    xyz[3 * i + 2]! *= byZ
  }
}

function empty(outline: readonly Point[], scale: number): HeadPicture {
  const far = Math.max(...outline.map(({ x, y }) => Math.max(Math.abs(x), Math.abs(y))))
  const side = 2 * Math.ceil((far + 0.5) * scale)
  return { scale, side, there: new Uint8Array(side * side), xyz: new Float32Array(3 * side * side), outline }
}

/** Smooth noise of standard deviation about 1 and a grain of about 1, the same again after 64. */
export function patchy(random: Random): (x: number, y: number) => number {
  const n = 64
  const at = Float32Array.from({ length: n * n }, () => 1.6 * random.normal())
  return (x, y) => {
    const i = Math.floor(x)
    const j = Math.floor(y)
    const s = x - i
    const t = y - j
    const u = s * s * (3 - 2 * s)
    const v = t * t * (3 - 2 * t)
    const left = i & (n - 1)
    const right = (i + 1) & (n - 1)
    const above = (j & (n - 1)) * n
    const below = ((j + 1) & (n - 1)) * n
    return (at[above + left]! * (1 - u) + at[above + right]! * u) * (1 - v) + (at[below + left]! * (1 - u) + at[below + right]! * u) * v
  }
}
