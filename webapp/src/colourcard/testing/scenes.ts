// Random scenes from a seed: what growers would meet, one difficulty at a time and all together.

import type { Lab } from '../../colour/lab'
import { cardHeight, cardWidth } from '../geometry'
import type { Point } from '../measurement'
import { grounds, skins, type Background } from './background'
import type { Head } from './head'
import type { Cones, Light } from './light'
import type { Ink, Print } from './printed'
import { Random } from './random'
import { lightOver } from './render'
import type { Camera, Falling, Finger, Scene, Spot, Tag } from './scene'
import { Sight, type View } from './view'

type Range = readonly [number, number]

/** What a scene is drawn from; numbers evenly from a range. */
interface Asked {
  readonly kelvin: Range
  readonly exposure: Range
  /** Most over least light on card and head, less 1. */
  readonly uneven: Range
  readonly shadow: boolean
  /** In modules of the code. */
  readonly blur: Range
  /** At full scale. */
  readonly noise: Range
  readonly quality: Range
  readonly slant: Range
  readonly share: Range
  /** How likely it is wet, and how likely a finger is over a corner. */
  readonly wet: number
  readonly soaked: boolean
  readonly finger: number
  readonly curve: Range
  readonly vivid: Range
  /** How far from neutral paper and inks are, 1 as home printers are; 0 is as drawn, on perfect paper. */
  readonly print: number
  /** Whether somebody has characterised the batch, and what became of the card since. */
  readonly known: boolean
  readonly faded: Range
  readonly retired: boolean
  readonly p3: number
  readonly texture: Range
  readonly forms: readonly Head['form'][]
  /** Millimetres from the card. */
  readonly gap: Range
  readonly behind: Range
  /** Share of the card, or of the head, that is out of the frame. */
  readonly cardOut: Range
  readonly headOut: Range
  /** Whether other heads may touch it in the picture. */
  readonly crowded: boolean
  /** In place of the size that is usual. */
  readonly size?: Size
}

const plain: Asked = {
  kelvin: [5200, 6800], exposure: [-0.6, -0.1], uneven: [0, 0.01], shadow: false, blur: [0.08, 0.12], noise: [0.002, 0.004], quality: [95, 95],
  slant: [0, 12], share: [0.1, 0.2], wet: 0, soaked: false, finger: 0, curve: [0, 0], vivid: [1, 1], print: 0.4, known: true, faded: [0, 0], retired: false, p3: 0,
  texture: [0.2, 0.4], forms: ['corymb'], gap: [4, 25], behind: [0, 0], cardOut: [0, 0], headOut: [0, 0], crowded: false,
}

/** All that is promised to be measured. */
const reach: Asked = {
  kelvin: [2500, 9000], exposure: [-2, 1.5], uneven: [0, 0.08], shadow: false, blur: [0.08, 0.38], noise: [0.002, 0.02], quality: [70, 95],
  slant: [0, 45], share: [0.08, 0.4], wet: 0.35, soaked: false, finger: 0.25, curve: [0, 0.7], vivid: [0.95, 1.2], print: 1, known: true, faded: [0, 0], retired: false, p3: 0.5,
  texture: [0, 1], forms: ['corymb', 'corymb', 'disc', 'lobed'], gap: [3, 40], behind: [0, 0], cardOut: [0, 0], headOut: [0, 0], crowded: false,
}

/** One difficulty at a time beside a plain scene; all that is promised; beyond it; and what nobody would measure. */
const asked = {
  plain,
  light: { ...plain, kelvin: [2500, 9000] },
  dark: { ...plain, exposure: [-2, -1.4] },
  bright: { ...plain, exposure: [0.8, 1.5] },
  gradient: { ...plain, uneven: [0.04, 0.08] },
  blur: { ...plain, blur: [0.25, 0.38] },
  noise: { ...plain, noise: [0.015, 0.04] },
  jpeg: { ...plain, quality: [70, 80] },
  slant: { ...plain, slant: [30, 45] },
  large: { ...plain, share: [0.28, 0.4] },
  glare: { ...plain, wet: 1 },
  finger: { ...plain, finger: 1 },
  curve: { ...plain, curve: [0.3, 0.7], vivid: [1.05, 1.25] },
  paper: { ...plain, print: 1.5 },
  p3: { ...plain, p3: 1 },
  flat: { ...plain, texture: [0, 0], forms: ['disc', 'lobed'] },
  rough: { ...plain, texture: [0.7, 1] },
  reach,
  small: { ...reach, share: [0.015, 0.08] },
  uneven: { ...reach, uneven: [0.1, 0.5] },
  behind: { ...reach, behind: [-60, 60] },
  apart: { ...reach, gap: [45, 70] },
  crowded: { ...reach, crowded: true },
  '12 megapixels': { ...reach, size: { width: 4000, height: 3000 } },
  'few pixels': { ...reach, size: { width: 1024, height: 768 } },
  'as drawn, not characterised': { ...reach, print: 0, known: false },
  'not characterised': { ...reach, known: false },
  everything: { ...reach, share: [0.03, 0.4], uneven: [0, 0.25], behind: [-20, 20], noise: [0.002, 0.04] },
  'too far': { ...plain, share: [0.002, 0.006] },
  'too slanted': { ...plain, slant: [60, 72] },
  'too blurred': { ...plain, blur: [1, 2] },
  'too dark': { ...plain, exposure: [-8, -6.5] },
  'too bright': { ...plain, exposure: [2.4, 4] },
  'too wet': { ...plain, wet: 1, soaked: true },
  'card cut off': { ...plain, cardOut: [0.1, 0.4] },
  'head cut off': { ...plain, headOut: [0.25, 0.6] },
  'in a shadow': { ...plain, shadow: true },
  'no card': { ...plain, cardOut: [1.3, 1.6] },
  'retired card': { ...plain, retired: true },
  'faded card': { ...plain, faded: [0.35, 0.6] },
} as const satisfies Record<string, Asked>

export type Condition = keyof typeof asked
export const conditions = Object.keys(asked) as readonly Condition[]

export interface Drawn {
  readonly scene: Scene
  /** At what quality its JPEG is to be kept. */
  readonly quality: number
  /** Whether anything is known of the batch. */
  readonly known: boolean
}

export interface Size {
  readonly width: number
  readonly height: number
}

/** Of a photo held across; half of them are held upright. */
export const usual: Size = { width: 1600, height: 1200 }

/** Colours that heads of yarrow have: CIELAB, D50, from memory of the flowers. */
const heads: readonly Lab[] = [
  { L: 88, a: 0, b: 8 }, { L: 84, a: 1, b: 22 }, { L: 80, a: 4, b: 62 }, { L: 74, a: 10, b: 66 }, { L: 66, a: 28, b: 38 }, { L: 56, a: 36, b: 34 }, { L: 76, a: 16, b: 0 },
  { L: 66, a: 30, b: -4 }, { L: 54, a: 44, b: 2 }, { L: 44, a: 50, b: 14 }, { L: 38, a: 46, b: 20 }, { L: 66, a: 18, b: -16 }, { L: 50, a: 30, b: -14 },
]

/** What is to be read, and what is not: modules in rows, from codes.ts. */
export interface Codes {
  readonly batch: string
  readonly card: readonly boolean[]
  /** All that is black on a real card of the batch. */
  readonly ink?: Ink | undefined
  /** Of a plant's tag, which stands in some scenes. */
  readonly tag: readonly boolean[]
}

/** A scene of a seed. */
export function drawScene(seed: number, condition: Condition, codes: Codes, usually: Size = usual): Drawn {
  const random = new Random(seed)
  const from: Asked = asked[condition]
  const across = from.size ?? usually
  const size = random.chance(0.5) ? across : { width: across.height, height: across.width }
  const share = between(random, from.share)
  const head = headOf(random, from, share)
  const view = viewOf(random, from, share, head, size)
  const light = lightOf(random, from)
  const scene: Scene = {
    ...size, head, view, light,
    print: printOf(random, from, codes),
    tag: random.chance(0.3) ? tagOf(random, codes, head) : undefined,
    background: backgroundOf(random, from, head, view, size),
    cones: random.oneOf<Cones>(['bradford', 'cat02', 'xyz']),
    falling: fallingOf(random, from, view, head, size),
    glare: random.chance(from.wet) ? glareOf(random, from, head) : [],
    finger: random.chance(from.finger) ? fingerOf(random, head.at) : undefined,
    camera: cameraOf(random, from, light, new Sight(view, size.width, size.height).moduleSide),
    seed: random.fork(),
  }
  return { scene: evened(scene, between(random, from.uneven)), quality: Math.round(between(random, from.quality)), known: from.known }
}

const between = (random: Random, [low, high]: Range) => random.between(low, high)

function headOf(random: Random, from: Asked, share: number): Head {
  const base = random.oneOf(heads)
  const lab = { L: base.L + 3 * random.normal(), a: base.a + 3 * random.normal(), b: base.b + 3 * random.normal() }
  // Where the card fills the frame, only a small head is beside it.
  const across = share > 0.22 ? random.between(3, 5.5) : random.between(4, 11)
  const gap = between(random, from.gap) + 5 * across
  const slip = 12 * random.normal()
  const at = random.oneOf<Point>([
    { x: -gap, y: cardHeight / 2 + slip }, { x: cardWidth + gap, y: cardHeight / 2 + slip },
    { x: cardWidth / 2 + slip, y: -gap }, { x: cardWidth / 2 + slip, y: cardHeight + gap },
  ])
  return { lab, form: random.oneOf(from.forms), across, at, behind: between(random, from.behind), texture: between(random, from.texture), seed: random.fork() }
}

function viewOf(random: Random, from: Asked, share: number, head: Head, size: Size): View {
  const turn = random.chance(0.8) ? 8 * random.normal() : random.between(-180, 180)
  const wanted = { focal: random.oneOf([0.65, 0.75, 0.9, 1.4]), slant: between(random, from.slant), lean: random.between(0, 360), turn, share, at: { x: 0.5, y: 0.5 } }
  const view = fitted(wanted, head, size, random)
  const [cardOut, headOut] = [between(random, from.cardOut), between(random, from.headOut)]
  if (cardOut > 0) return pushedOut(view, size, cardOutline, cardOut)
  return headOut > 0 ? pushedOut(view, size, outlineOf(head), headOut) : view
}

const cardOutline: readonly Point[] = [{ x: 0, y: 0 }, { x: cardWidth, y: 0 }, { x: cardWidth, y: cardHeight }, { x: 0, y: cardHeight }]

/** With some to spare for lobes, in the card's millimetres of a print that is smaller than meant. */
function outlineOf({ at, across }: Pick<Head, 'at' | 'across'>): readonly Point[] {
  const r = 5 * across * 1.15
  return Array.from({ length: 16 }, (_, i) => ({ x: at.x + r * Math.cos((i * Math.PI) / 8), y: at.y + r * Math.sin((i * Math.PI) / 8) }))
}

interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** In widths and heights of the frame. */
function boxOf(view: View, { width, height }: Size, outline: readonly Point[], behind: number): Box {
  const sight = new Sight(view, width, height)
  const seen = outline.map(({ x, y }) => sight.see(x, y, behind))
  const [xs, ys] = [seen.map(({ x }) => x / width), seen.map(({ y }) => y / height)]
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
}

function joined(p: Box, q: Box): Box {
  return { left: Math.min(p.left, q.left), right: Math.max(p.right, q.right), top: Math.min(p.top, q.top), bottom: Math.max(p.bottom, q.bottom) }
}

/** Where somebody would hold the camera to have both in the frame: further away where there is no room. */
function fitted(wanted: View, head: Head, size: Size, random: Random): View {
  const [u, v] = [random.next(), random.next()]
  const margin = 0.015
  for (let view = wanted; ; view = { ...view, share: view.share * 0.94, at: { x: 0.5, y: 0.5 } }) {
    let box = { left: 0, right: 1, top: 0, bottom: 1 }
    for (let i = 0; i < 4; i++) {
      box = joined(boxOf(view, size, cardOutline, 0), boxOf(view, size, outlineOf(head), head.behind))
      const [roomX, roomY] = [1 - 2 * margin - box.right + box.left, 1 - 2 * margin - box.bottom + box.top]
      const at = { x: view.at.x + margin + roomX * u - box.left, y: view.at.y + margin + roomY * v - box.top }
      if (roomX < 0 || roomY < 0) break
      view = { ...view, at }
    }
    box = joined(boxOf(view, size, cardOutline, 0), boxOf(view, size, outlineOf(head), head.behind))
    if (box.left > 0.003 && box.top > 0.003 && box.right < 0.997 && box.bottom < 0.997) return view
    if (view.share < 0.001) throw new Error(`placing a camera: no view shows card and head of ${JSON.stringify(head)}`)
  }
}

/** Moved towards the nearest edge of the frame until so much of its breadth is beyond it. */
function pushedOut(view: View, size: Size, outline: readonly Point[], out: number): View {
  const { left, right, top, bottom } = boxOf(view, size, outline, 0)
  const [x, y] = [(left + right) / 2 - 0.5, (top + bottom) / 2 - 0.5]
  let moved = view
  for (let i = 0; i < 6; i++) {
    const box = boxOf(moved, size, outline, 0)
    const byX = x > 0 ? 1 - box.right + out * (box.right - box.left) : -box.left - out * (box.right - box.left)
    const byY = y > 0 ? 1 - box.bottom + out * (box.bottom - box.top) : -box.top - out * (box.bottom - box.top)
    moved = { ...moved, at: Math.abs(x) > Math.abs(y) ? { x: moved.at.x + byX, y: moved.at.y } : { x: moved.at.x, y: moved.at.y + byY } }
  }
  return moved
}

function lightOf(random: Random, from: Asked): Light {
  // Evenly in reciprocal degrees, in which the eye's steps are about even.
  const kelvin = 1 / random.between(1 / from.kelvin[1], 1 / from.kelvin[0])
  const kind = kelvin < 4000 || (kelvin < 5000 && random.chance(0.5)) ? 'glowing' : 'daylight'
  return { kelvin, kind, tint: 0.004 * random.normal() }
}

function printOf(random: Random, { print, faded, retired }: Asked, { batch, card, ink }: Codes): Print {
  const drawn = {
    paper: { L: 95 - 1.5 * print * random.next(), a: print * random.between(-0.8, 1.5), b: print * random.between(-2, 5) },
    off: 2.5 * print, black: 14 + 10 * random.next(), strength: 1 - 0.2 * print * random.next(), se: random.between(0.3, 0.7), scale: random.between(0.96, 1.02),
  }
  const perfect = { ...drawn, paper: { L: 100, a: 0, b: 0 }, black: 0, scale: 1 }
  return { batch, code: card, ink, ...(print === 0 ? perfect : drawn), faded: between(random, faded), retired, seed: random.fork() }
}

/** On the other side of the card than the head, somewhat behind it. */
function tagOf(random: Random, { tag }: Codes, { at }: Head): Tag {
  const [dx, dy] = [cardWidth / 2 - at.x, cardHeight / 2 - at.y]
  const by = (random.between(75, 110)) / Math.hypot(dx, dy)
  return { code: tag, at: { x: cardWidth / 2 + dx * by, y: cardHeight / 2 + dy * by }, behind: random.between(5, 60) }
}

function backgroundOf(random: Random, { crowded }: Asked, { lab, at, behind, across }: Head, view: View, { width, height }: Size): Background {
  const others = [lab, { L: lab.L + 6 * random.normal(), a: lab.a + 6 * random.normal(), b: lab.b + 6 * random.normal() }, random.oneOf(heads)]
  const sight = new Sight(view, width, height)
  const middle = sight.see(at.x, at.y, behind)
  const far = Math.max(...outlineOf({ at, across }).map(({ x, y }) => sight.see(x, y, behind)).map(({ x, y }) => Math.hypot(x - middle.x, y - middle.y)))
  const clear = { x: middle.x / width, y: middle.y / width, radius: (crowded ? 0.5 : 1) * (far / width) }
  return { ground: crowded ? 'heads' : random.oneOf(grounds), heads: others, clear, seed: random.fork() }
}

function fallingOf(random: Random, { shadow }: Asked, view: View, head: Head, { width, height }: Size): Falling {
  const falling = { gradient: 0.5 * random.next(), from: random.between(0, 360), vignette: 0.2 * random.next() }
  if (!shadow) return falling
  // Its edge runs between the middles of card and head.
  const sight = new Sight(view, width, height)
  const [card, flower] = [sight.see(cardWidth / 2, cardHeight / 2), sight.see(head.at.x, head.at.y)]
  const t = random.between(0.3, 0.7)
  const away = (180 / Math.PI) * Math.atan2(flower.y - card.y, flower.x - card.x)
  const through = { x: (card.x + t * (flower.x - card.x)) / width, y: (card.y + t * (flower.y - card.y)) / height }
  return { ...falling, shadow: { through, lit: away + (random.chance(0.5) ? 0 : 180) + 15 * random.normal(), left: random.between(0.25, 0.5), soft: random.between(0.005, 0.05) } }
}

/** The scene with as uneven a light as asked, most over least less 1; where there is a shadow, that comes on top. */
function evened(scene: Scene, uneven: number): Scene {
  const { falling, head, width, height } = scene
  const sight = new Sight(scene.view, width, height)
  const points = [...cardOutline.map(({ x, y }) => sight.see(x, y)), ...outlineOf(head).map(({ x, y }) => sight.see(x, y, head.behind))]
  const scaled = (by: number): Scene => ({ ...scene, falling: { ...falling, gradient: falling.gradient * by, vignette: Math.min(0.4, falling.vignette * by) } })
  const unevenAt = (by: number) => {
    const light = lightOver({ ...scaled(by), falling: { ...scaled(by).falling, shadow: undefined } })
    const values = points.map(({ x, y }) => light(x, y))
    return Math.max(...values) / Math.min(...values) - 1
  }
  let [low, high] = [0, 2.5]
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2
    if (unevenAt(middle) > uneven) high = middle
    else low = middle
  }
  return scaled(low)
}

function glareOf(random: Random, { soaked }: Asked, { at, across }: Head): readonly Spot[] {
  const r = 5 * across
  const onHead = () => {
    const [away, angle] = [r * Math.sqrt(random.next()), random.between(0, 2 * Math.PI)]
    return { x: at.x + away * Math.cos(angle), y: at.y + away * Math.sin(angle) }
  }
  if (soaked) return [{ at, radius: 1.6 * r, strength: 1.5 }, ...Array.from({ length: 6 }, () => ({ at: onHead(), radius: 0.5 * r, strength: 1 }))]
  const drops = Array.from({ length: 1 + random.below(4) }, () => ({ at: onHead(), radius: random.between(1.5, 5), strength: random.between(0.1, 1) }))
  const patches = Array.from({ length: 1 + random.below(3) }, () => ({ at: { x: cardWidth * random.next(), y: cardHeight * random.next() }, radius: random.between(3, 9), strength: random.between(0.1, 1.2) }))
  return [...drops, ...patches]
}

/** From a side where the head is not. */
function fingerOf(random: Random, { x, y }: Point): Finger {
  const [left, above] = [x < cardWidth / 2, y < cardHeight / 2]
  const beside = x < 0 || x > cardWidth
  const corners = beside ? (left ? [1, 2] : [0, 3]) : (above ? [2, 3] : [0, 1])
  return { corner: random.oneOf(corners), reach: random.between(8, 22), skin: random.oneOf(skins) }
}

function cameraOf(random: Random, from: Asked, light: Light, module: number): Camera {
  const off = Math.exp(0.07 * random.normal())
  const near = { kelvin: Math.min(12_000, Math.max(2200, light.kelvin * off)), kind: light.kind, tint: light.tint * 0.5 + 0.003 * random.normal() }
  const steady: Light = { kelvin: random.oneOf([5000, 6504]), kind: 'daylight', tint: 0 }
  const soft = between(random, from.blur) * module
  const shaken = random.chance(0.3) ? random.between(0.2, 0.8) : 0
  return {
    space: random.chance(from.p3) ? 'display-p3' : 'srgb',
    exposure: between(random, from.exposure),
    balance: random.chance(0.75) ? { ...near, kind: near.kelvin < 4000 ? 'glowing' : near.kind } : steady,
    balanced: random.chance(0.5) ? 'cones' : 'channels',
    shoulder: from.curve[1] > 0 && random.chance(0.5) ? random.between(0.1, 0.6) : 0,
    curve: between(random, from.curve), vivid: between(random, from.vivid),
    blur: soft * Math.sqrt(1 - shaken * shaken), motion: soft * shaken * Math.sqrt(12), motionAt: random.between(0, 180),
    shot: between(random, from.noise), read: random.between(0.0003, 0.002),
  }
}
