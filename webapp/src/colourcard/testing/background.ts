// What is behind card and head: leaves, soil, mulch, sky, other heads, a hand. Roughly drawn and in true colours
// (CIELAB, from memory of such things), for what looks for a head or a card to be led astray by.

import { D50, xyzOf, type Lab } from '../../colour/lab'
import { patchy } from './head'
import { Random } from './random'

export const grounds = ['leaves', 'soil', 'mulch', 'sky', 'hand', 'heads', 'mixed'] as const
export type Ground = (typeof grounds)[number]

export interface Background {
  readonly ground: Ground
  /** Of other heads, where there are any. */
  readonly heads: readonly Lab[]
  /** Where none of them is: a circle in widths of the frame. */
  readonly clear?: { readonly x: number; readonly y: number; readonly radius: number }
  readonly seed: number
}

/** X, Y and Z under D50, three a pixel. */
export interface Drawing {
  readonly width: number
  readonly height: number
  readonly xyz: Float32Array
}

/** A background of so many pixels; what is in it is as large whatever they are. */
export function drawBackground({ ground, heads, clear, seed }: Background, width: number, height: number): Drawing {
  const random = new Random(seed)
  const drawing = { width, height, xyz: new Float32Array(3 * width * height) }
  switch (ground) {
    case 'leaves':
      leaves(drawing, random, 170)
      break
    case 'soil':
      soil(drawing, random)
      break
    case 'mulch':
      mulch(drawing, random)
      break
    case 'sky':
      soil(drawing, random)
      sky(drawing, random, 0.9)
      break
    case 'hand':
      leaves(drawing, random, 120)
      hand(drawing, random)
      break
    case 'heads':
      leaves(drawing, random, 140)
      otherHeads(drawing, random, heads, clear, 9)
      break
    case 'mixed':
      mulch(drawing, random)
      sky(drawing, random, 0.3)
      leaves(drawing, random, 70, false)
      otherHeads(drawing, random, heads, clear, 4)
      break
  }
  return drawing
}

type Three = readonly [number, number, number]

function threeOf(L: number, a: number, b: number): Three {
  const { X, Y, Z } = xyzOf({ L, a, b }, D50)
  return [Math.max(0, X), Math.max(0, Y), Math.max(0, Z)]
}

/** Patches of one colour, lighter and darker by so many L. */
function fill({ width, height, xyz }: Drawing, random: Random, colour: Lab, L: number, grain: number): void {
  const [coarse, fine] = [patchy(random), patchy(random)]
  const shades = Array.from({ length: 64 }, (_, i) => threeOf(Math.max(2, colour.L + L * (i / 16 - 2)), colour.a, colour.b))
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const u = (x / width) * grain
      const v = (y / width) * grain
      const shade = shades[Math.min(63, Math.max(0, Math.round(16 * (0.7 * coarse(u, v) + 0.5 * fine(4.3 * u, 4.3 * v) + 2))))]!
      const i = 3 * (y * width + x)
      xyz[i] = shade[0]
      xyz[i + 1] = shade[1]
      xyz[i + 2] = shade[2]
    }
  }
}

function soil(drawing: Drawing, random: Random): void {
  fill(drawing, random, { L: random.between(22, 42), a: random.between(4, 10), b: random.between(8, 18) }, 7, 60)
}

function mulch(drawing: Drawing, random: Random): void {
  const straw = random.chance(0.5)
  soil(drawing, random)
  for (let i = 0; i < 700; i++) {
    const L = straw ? random.between(45, 80) : random.between(20, 48)
    const colour = threeOf(L, random.between(2, 9), straw ? random.between(16, 32) : random.between(8, 18))
    const angle = random.between(0, 2 * Math.PI)
    const length = random.between(0.03, 0.12)
    const [x, y] = [random.next(), random.next()]
    stroke(drawing, x, y, x + length * Math.cos(angle), y + length * Math.sin(angle), random.between(0.002, 0.006), colour)
  }
}

/** Feathery: a rib with fine leaflets on either side. */
function leaves(drawing: Drawing, random: Random, n: number, ground = true): void {
  if (ground) fill(drawing, random, { L: 18, a: -6, b: 12 }, 5, 25)
  for (let i = 0; i < n; i++) {
    const depth = i / n
    const L = 16 + 36 * depth + 6 * random.normal()
    const colour = threeOf(Math.max(6, L), random.between(-22, -8), random.between(12, 32))
    leaf(drawing, random, colour)
  }
}

function leaf(drawing: Drawing, random: Random, colour: Three): void {
  let [x, y, angle] = [random.between(-0.1, 1.1), random.between(-0.1, 1.1), random.between(0, 2 * Math.PI)]
  const bend = 0.04 * random.normal()
  const [length, steps] = [random.between(0.15, 0.45), 26]
  for (let k = 0; k < steps; k++) {
    angle += bend
    const [toX, toY] = [x + (length / steps) * Math.cos(angle), y + (length / steps) * Math.sin(angle)]
    stroke(drawing, x, y, toX, toY, 0.0025, colour)
    const wide = 0.045 * Math.sin((Math.PI * (k + 1)) / (steps + 1))
    for (const side of [-1, 1]) {
      const out = angle + side * random.between(0.7, 1.2)
      stroke(drawing, toX, toY, toX + wide * Math.cos(out), toY + wide * Math.sin(out), 0.0022, colour)
    }
    ;[x, y] = [toX, toY]
  }
}

/** Places and widths are in widths of the drawing. */
function stroke({ width, height, xyz }: Drawing, x0: number, y0: number, x1: number, y1: number, wide: number, colour: Three): void {
  const half = Math.max(0.5, (wide * width) / 2)
  const reach = Math.floor(half)
  const steps = Math.max(1, Math.ceil((Math.hypot(x1 - x0, y1 - y0) * width) / half))
  const x = (k: number) => Math.round((x0 + ((x1 - x0) * k) / steps) * width)
  const y = (k: number) => Math.round((y0 + ((y1 - y0) * k) / steps) * width)
  for (let k = 0; k <= steps; k++) {
    const left = Math.max(0, x(k) - reach)
    const right = Math.min(width - 1, x(k) + reach)
    const bottom = Math.min(height - 1, y(k) + reach)
    for (let row = Math.max(0, y(k) - reach); row <= bottom; row++) {
      for (let i = 3 * (row * width + left); i <= 3 * (row * width + right); i += 3) {
        xyz[i] = colour[0]
        xyz[i + 1] = colour[1]
        xyz[i + 2] = colour[2]
      }
    }
  }
}

/** Down to a share of the height: clear or overcast, and far brighter than paper in its shade. */
function sky({ width, height, xyz }: Drawing, random: Random, down: number): void {
  const overcast = random.chance(0.5)
  const bright = random.between(0.6, 2)
  const [r, s, t] = overcast ? threeOf(95, -1, random.between(-4, 4)) : threeOf(74, -6, random.between(-32, -18))
  const cloud = patchy(random)
  for (let y = 0; y < down * height; y++) {
    for (let x = 0; x < width; x++) {
      const by = bright * Math.max(0.3, 1 + 0.3 * (y / height) + 0.08 * cloud((5 * x) / width, (9 * y) / width))
      const i = 3 * (y * width + x)
      xyz[i] = r * by
      xyz[i + 1] = s * by
      xyz[i + 2] = t * by
    }
  }
}

export const skins: readonly Lab[] = [{ L: 68, a: 13, b: 17 }, { L: 60, a: 15, b: 20 }, { L: 50, a: 14, b: 20 }, { L: 38, a: 11, b: 16 }, { L: 76, a: 10, b: 14 }]

/** Fingers from a corner of the frame. */
function hand(drawing: Drawing, random: Random): void {
  const { L, a, b } = random.oneOf(skins)
  const left = random.chance(0.5)
  for (let finger = 0; finger < 4; finger++) {
    const y = 0.72 - 0.13 * finger
    for (let k = 0; k <= 10; k++) {
      const wide = 0.1 - 0.008 * k
      const reach = 0.42 - 0.06 * finger
      const [from, to] = [left ? 0 : 1, left ? reach : 1 - reach]
      stroke(drawing, from, y, to, y - 0.05, wide, threeOf(L - 12 + 1.6 * k, a, b))
    }
  }
}

/** Smaller than those in the card's plane, and with florets of their own. */
function otherHeads(drawing: Drawing, random: Random, colours: readonly Lab[], clear: Background['clear'], n: number): void {
  if (colours.length === 0) return
  for (let i = 0; i < n; i++) {
    const colour = random.oneOf(colours)
    const [cx, cy, radius] = [random.next(), random.next() * (drawing.height / drawing.width), random.between(0.03, 0.08)]
    if (clear && Math.hypot(cx - clear.x, cy - clear.y) < clear.radius + 1.2 * radius) continue
    for (let k = 0; k < 90; k++) {
      const [r, angle] = [radius * Math.sqrt((k + 0.5) / 90), 2.4 * k]
      const shade = threeOf(Math.max(4, colour.L - 6 * (r / radius) + 7 * random.normal()), colour.a + 3 * random.normal(), colour.b + 3 * random.normal())
      const [x, y] = [cx + r * Math.cos(angle), cy + 0.75 * r * Math.sin(angle)]
      stroke(drawing, x, y, x, y, 0.26 * radius, shade)
    }
  }
}
