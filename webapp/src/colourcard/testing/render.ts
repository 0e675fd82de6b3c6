// Photos of a colour card and a flower head of which all is known: tests ask what was measured in them.
//
// Surfaces have colours under D50. Light adapts them in one of several cone spaces, the camera balances what comes,
// exposes, draws its curve through it and encodes it: none of this is taken from what measures photos.

import { D50, D65, xyzOf, type Lab } from '../../colour/lab'
import { displayP3, encoded, sRGB } from '../../colour/rgb'
import { cardHeight, cardWidth } from '../geometry'
import type { KnownCard, Photo, Point } from '../measurement'
import { layBackground, layCard, layFinger, layHead, laySpot, laySquare, layTag } from './laying'
import { adaptation, applied, flat, product, triple, under, whiteOf, type Matrix } from './light'
import { printed, type Printed } from './printed'
import { Random } from './random'
import type { Camera, Chain, Planes, Scene, Shadow } from './scene'
import { soften } from './soften'
import { judge, type Verdict } from './usable'
import { Sight } from './view'

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

function perChannel([r, g, b]: readonly [number, number, number]): Matrix {
  const least = 0.02
  return [1 / Math.max(least, r), 0, 0, 0, 1 / g, 0, 0, 0, 1 / Math.max(least, b)]
}

/** Further from grey of the same brightness. */
function vividly(by: number): Matrix {
  const [r, g, b] = [0.2126 * (1 - by), 0.7152 * (1 - by), 0.0722 * (1 - by)]
  return [by + r, g, b, r, by + g, b, r, g, by + b]
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
