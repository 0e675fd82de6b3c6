// Photos of a colour card and a flower head of which all is known: tests ask what was measured in them.
//
// Surfaces have colours under D50. Light adapts them in one of several cone spaces, the camera balances what comes,
// exposes, draws its curve through it and encodes it: none of this is taken from what measures photos.

import { D50, D65, xyzOf, type Lab, type XYZ } from '../../colour/lab'
import { displayP3, encoded, sRGB } from '../../colour/rgb'
import { cardHeight, cardWidth } from '../geometry'
import type { KnownCard, Photo, Point } from '../measurement'
import { drawBackground, type Background } from './background'
import { headPicture, type Head, type HeadPicture } from './head'
import { adaptation, applied, flat, product, under, whiteOf, type Cones, type Light, type Matrix } from './light'
import { planOf, planScale, printed, reflecting, type Print, type Printed } from './printed'
import { Random } from './random'
import { soften } from './soften'
import { judge, type Verdict } from './usable'
import { Sight, type View } from './view'

export interface Scene {
  readonly width: number
  readonly height: number
  readonly view: View
  readonly print: Print
  readonly head: Head
  readonly background: Background
  readonly light: Light
  readonly cones: Cones
  readonly falling: Falling
  readonly glare: readonly Spot[]
  readonly finger?: Finger | undefined
  readonly tag?: Tag | undefined
  /** A second card, in the plane of the first. */
  readonly beside?: Beside | undefined
  /** A square of one colour in that plane. */
  readonly square?: Square | undefined
  readonly camera: Camera
  readonly seed: number
}

/** A card's upper left corner and turn in the first card's millimetres, clockwise in degrees. */
export interface Beside {
  readonly print: Print
  readonly at: Point
  readonly turn: number
}

export interface Square {
  readonly lab: Lab
  readonly middle: Point
  readonly side: number
}

/** How the light falls on the frame. */
export interface Falling {
  /** Brightest over darkest edge, less 1. */
  readonly gradient: number
  /** Where it is brightest, degrees clockwise from the right. */
  readonly from: number
  /** What the frame's corners lose. */
  readonly vignette: number
  readonly shadow?: Shadow | undefined
}

/** Half of the frame in shadow. */
export interface Shadow {
  /** Through this point, in widths and heights of the frame. */
  readonly through: Point
  /** Where it is lit, degrees clockwise from the right. */
  readonly lit: number
  /** The share of the light that is left. */
  readonly left: number
  /** How wide its edge is, in widths of the frame. */
  readonly soft: number
}

/** Wet and shining. */
export interface Spot {
  /** In the card's plane. */
  readonly at: Point
  readonly radius: number
  /** What it adds in its middle, in parts of what perfect white sends back. */
  readonly strength: number
}

/** A plant's tag: it has a code, and is no card. */
export interface Tag {
  /** In rows, true where dark. */
  readonly code: readonly boolean[]
  /** The middle of its code, in the card's millimetres. */
  readonly at: Point
  readonly behind: number
}

/** Over a corner of the card. */
export interface Finger {
  /** 0 is the upper left one, then clockwise. */
  readonly corner: number
  /** Millimetres from the corner to the tip. */
  readonly reach: number
  readonly skin: Lab
}

export interface Camera {
  readonly space: Photo['space']
  /** EV; at 0 perfect white, lit as the frame's middle, just reaches the end of the scale. */
  readonly exposure: number
  /** What it takes the light to be. */
  readonly balance: Light
  /** What it balances: cones, or the channels of its pictures. */
  readonly balanced: 'cones' | 'channels'
  /** How strongly bright light is held back before it burns out: 0 not, 1 from a third of the scale on. */
  readonly shoulder: number
  /** 0 is a straight curve, 1 a full S (3v^2 - 2v^3 of encoded values). */
  readonly curve: number
  /** 1 is true; phones like 1.1. */
  readonly vivid: number
  /** Pixels, standard deviation. */
  readonly blur: number
  /** Pixels, and degrees. */
  readonly motion: number
  readonly motionAt: number
  /** Standard deviation at full scale of what grows with the root of light, and of what is always there. */
  readonly shot: number
  readonly read: number
}

export interface Truth extends Verdict {
  readonly batch: string
  readonly lab: Lab
  /** Centimetres. */
  readonly spread: number
  readonly corners: readonly [Point, Point, Point, Point]
  readonly outline: readonly Point[]
  readonly middle: Point
  /** Most over least light on card and head. */
  readonly unevenness: number
}

export interface Rendered {
  readonly photo: Photo
  readonly truth: Truth
  /** What somebody who measured the batch with care knows of it. */
  readonly card: KnownCard
  readonly printed: Printed
  /** The second card. */
  readonly beside: Printed | undefined
}

/** Linear light of the camera's channels. */
interface Planes {
  readonly width: number
  readonly height: number
  readonly r: Float32Array
  readonly g: Float32Array
  readonly b: Float32Array
}

export function render(scene: Scene): Rendered {
  const { width, height, head, camera } = scene
  const sight = new Sight(scene.view, width, height)
  const print = printed(scene.print)
  const chain = chainOf(scene)
  const planes: Planes = { width, height, r: new Float32Array(width * height), g: new Float32Array(width * height), b: new Float32Array(width * height) }

  layBackground(planes, scene.background, chain)
  if (scene.tag) layTag(planes, sight, scene.tag, chain)
  const whole = layHead(planes, sight, head, scene.print.scale, chain)
  const beside = scene.beside && printed(scene.beside.print)
  layCard(planes, sight, scene.print, print, chain)
  if (scene.beside && beside) layCard(planes, sight, scene.beside.print, beside, chain, scene.beside)
  if (scene.square) laySquare(planes, sight, scene.square, chain)
  if (head.behind < 0) layHead(planes, sight, head, scene.print.scale, chain)
  if (scene.finger) layFinger(planes, sight, scene.finger, chain)
  for (const spot of scene.glare) laySpot(planes, sight, spot, chain)
  const light = lightOver(scene)
  shine(planes, light)
  for (const plane of [planes.r, planes.g, planes.b]) soften(plane, width, height, camera)
  const photo = taken(planes, camera, chain, new Random(scene.seed))

  const outline = whole.outline.map(({ x, y }) => sight.see(head.at.x + x / scene.print.scale, head.at.y + y / scene.print.scale, head.behind))
  const unevenness = unevennessOf(light, [...cardGrid(sight), ...outline], width, height)
  const verdict = judge({ scene, sight, photo, outline, headShown: whole.shown, unevenness, greys: greysAt(scene, print, chain, light, sight) })
  return {
    photo, card: print.known, printed: print, beside,
    truth: {
      batch: scene.print.batch, lab: head.lab, spread: head.across, corners: sight.corners(), outline,
      middle: sight.see(head.at.x, head.at.y, head.behind), unevenness, ...verdict,
    },
  }
}

/** From what a surface reflects under D50 to the camera's linear channels. */
interface Chain {
  readonly matrix: Matrix
  /** What each channel was raised by to balance it, green's taken for 1. */
  readonly gains: readonly [number, number, number]
}

function chainOf({ light, cones, camera }: Scene): Chain {
  const space = flat((camera.space === 'srgb' ? sRGB : displayP3).fromXYZ)
  const lit = under(light, cones)
  const raw = applied(space, ...triple(whiteOf(light)))
  const balanced = camera.balanced === 'cones'
    ? product(space, adaptation(whiteOf(camera.balance), D65, 'bradford'))
    : product(perChannel(applied(space, ...triple(whiteOf(camera.balance)))), space)
  const straight = product(vividly(camera.vivid), product(balanced, lit))
  const white = applied(straight, ...triple(D50))
  const exposure = 2 ** camera.exposure / Math.max(...white)
  const out = applied(product(balanced, lit), ...triple(D50))
  const gain = (k: 0 | 1 | 2) => Math.min(16, Math.max(0.25, (out[k] / Math.max(0.02, raw[k])) / (out[1] / raw[1])))
  return { matrix: product([exposure, 0, 0, 0, exposure, 0, 0, 0, exposure], straight), gains: [gain(0), 1, gain(2)] }
}

const triple = ({ X, Y, Z }: XYZ): [number, number, number] => [X, Y, Z]

function perChannel([r, g, b]: readonly [number, number, number]): Matrix {
  const least = 0.02
  return [1 / Math.max(least, r), 0, 0, 0, 1 / g, 0, 0, 0, 1 / Math.max(least, b)]
}

/** Further from grey of the same brightness. */
function vividly(by: number): Matrix {
  const [r, g, b] = [0.2126 * (1 - by), 0.7152 * (1 - by), 0.0722 * (1 - by)]
  return [by + r, g, b, r, by + g, b, r, g, by + b]
}

/** In place, three numbers at a time. */
function throughAll([a, b, c, d, e, f, g, h, i]: Matrix, threes: Float32Array): void {
  for (let at = 0; at < threes.length; at += 3) {
    const x = threes[at]!
    const y = threes[at + 1]!
    const z = threes[at + 2]!
    threes[at] = a * x + b * y + c * z
    threes[at + 1] = d * x + e * y + f * z
    threes[at + 2] = g * x + h * y + i * z
  }
}

/** Drawn no finer than this, since it is out of focus, and spread over the frame. */
const backgroundWidth = 1200

function layBackground({ width, height, r, g, b }: Planes, background: Background, { matrix }: Chain): void {
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

function layHead(planes: Planes, sight: Sight, head: Head, scale: number, { matrix }: Chain): Laid {
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

function layCard(planes: Planes, sight: Sight, print: Print, out: Printed, { matrix }: Chain, { at, turn }: Pick<Beside, 'at' | 'turn'> = first): void {
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

function laySquare(planes: Planes, sight: Sight, { lab, middle, side }: Square, { matrix }: Chain): void {
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

function layTag(planes: Planes, sight: Sight, { code, at, behind }: Tag, { matrix }: Chain): void {
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

function layFinger(planes: Planes, sight: Sight, finger: Finger, { matrix }: Chain): void {
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
function laySpot({ width, height, r, g, b }: Planes, sight: Sight, { at, radius, strength }: Spot, { matrix }: Chain): void {
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

/** How much light falls on a pixel, about 1. */
type LightAt = (x: number, y: number) => number

export function lightOver({ falling: { gradient, from, vignette, shadow }, width, height }: Scene): LightAt {
  const rad = (d: number) => (d * Math.PI) / 180
  const reach = (Math.abs(Math.cos(rad(from))) * width + Math.abs(Math.sin(rad(from))) * height) / 2
  const slope = gradient / (2 + gradient) / reach
  const [slopeX, slopeY] = [slope * Math.cos(rad(from)), slope * Math.sin(rad(from))]
  const fall = (4 * vignette) / (width * width + height * height)
  const even: LightAt = (x, y) => {
    const dx = x - width / 2
    const dy = y - height / 2
    return (1 + slopeX * dx + slopeY * dy) * (1 - fall * (dx * dx + dy * dy))
  }
  return shadow ? (x, y) => even(x, y) * lit(shadow, x / width, y / height, height / width) : even
}

/** The share of the light that a shadow leaves, at a place in widths and heights of the frame. */
function lit({ through, lit: towards, left, soft }: Shadow, x: number, y: number, high: number): number {
  const angle = (towards * Math.PI) / 180
  const into = (x - through.x) * Math.cos(angle) + (y - through.y) * high * Math.sin(angle)
  const t = Math.min(1, Math.max(0, 0.5 + into / Math.max(1e-6, soft)))
  return left + (1 - left) * t * t * (3 - 2 * t)
}

function shine({ width, height, r, g, b }: Planes, light: LightAt): void {
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const by = light(x + 0.5, y + 0.5)
      r[i]! *= by
      g[i]! *= by
      b[i]! *= by
    }
  }
}

function cardGrid(sight: Sight): readonly Point[] {
  return [0, 0.5, 1].flatMap((u) => [0, 0.5, 1].map((v) => sight.see(u * cardWidth, v * cardHeight)))
}

function unevennessOf(light: LightAt, points: readonly Point[], width: number, height: number): number {
  const seen = points.filter(({ x, y }) => x >= 0 && y >= 0 && x <= width && y <= height).map(({ x, y }) => light(x, y))
  return Math.max(...seen) / Math.min(...seen)
}

/** The brightest channel of each grey and of the paper, as it falls on the sensor; those above 1 burn out. */
function greysAt(scene: Scene, { patches }: Printed, { matrix }: Chain, light: LightAt, sight: Sight): readonly number[] {
  const middle = sight.see(cardWidth / 2, cardHeight / 2)
  return [0, 1, 2, 3, 4, 11].map((k) => light(middle.x, middle.y) * Math.max(...applied(matrix, ...triple(xyzOf(patches[k]!, D50)))))
    .map((v) => shouldered(v, scene.camera.shoulder))
}

/** Steps of the curve's table between 0 and 1, by the root of light, so that they are as fine where it is dark. */
const steps = 16384
/** Beyond this much light nothing is told apart. */
const most = 16

function taken({ width, height, r, g, b }: Planes, camera: Camera, { gains }: Chain, random: Random): Photo {
  const table = tableOf(camera)
  const noise = Float32Array.from({ length: 1 << 16 }, () => random.normal())
  const data = new Uint8ClampedArray(4 * width * height).fill(255)
  const planes = [r, g, b] as const
  planes.forEach((plane, channel) => {
    const gain = gains[channel]!
    develop(plane, data, channel, table, noise, camera.shot * camera.shot * gain, camera.read * camera.read * gain * gain, random)
  })
  return { data, width, height, space: camera.space }
}

/** One channel, with noise whose variance is `shot` of its light and `read` beside. */
function develop(plane: Float32Array, data: Uint8ClampedArray, channel: number, table: Uint8Array, noise: Float32Array, shot: number, read: number, random: Random): void {
  const last = table.length - 1
  for (let i = 0, at = channel, next = 0; i < plane.length; i++, at += 4) {
    // It goes on anywhere from time to time, so that no pattern repeats.
    next = (i & 1023) === 0 ? random.below(noise.length - 1024) : next + 1
    const light = plane[i]!
    const noisy = light + noise[next]! * Math.sqrt(light > 0 ? read + shot * light : read)
    const step = noisy > 0 ? (steps * Math.sqrt(noisy) + 0.5) | 0 : 0
    data[at] = table[step < last ? step : last]!
  }
}

function tableOf({ shoulder, curve }: Camera): Uint8Array {
  return Uint8Array.from({ length: steps * Math.sqrt(most) + 1 }, (_, k) => {
    const v = Math.min(1, encoded(shouldered((k / steps) ** 2, shoulder)))
    return Math.round(255 * ((1 - curve) * v + curve * v * v * (3 - 2 * v)))
  })
}

/** Held back above a knee, so that what is brighter comes near to 1 and not beyond. */
function shouldered(light: number, shoulder: number): number {
  const knee = 1 - (2 / 3) * shoulder
  return light <= knee || shoulder === 0 ? light : knee + (1 - knee) * (1 - Math.exp(-(light - knee) / (1 - knee)))
}
