// How far two colours are apart to the eye: CIEDE2000 and its parts.

import { chroma, type Lab } from './lab'

/** CIEDE2000 from one colour to another, kL = kC = kH = 1, in parts that say in which way they differ:
 *
 *     total^2 = lightness^2 + chroma^2 + hue^2 + rotation * chroma * hue
 *
 * Source: Sharma, Wu and Dalal 2005, Color Research & Application 30:21-30, whose equation (22) this is. */
export interface Difference {
  readonly total: number
  /** Above 0 where the second is lighter. */
  readonly lightness: number
  /** Above 0 where the second is stronger. */
  readonly chroma: number
  /** Above 0 where the second lies further round from red to yellow. */
  readonly hue: number
  /** R_T, which is 0 but in the blues. */
  readonly rotation: number
}

/** Hues this near, in degrees, to where the formula jumps count as there, since in binary they miss it by
 * the last digits: hues that are exactly opposite are no more than 180 apart (pairs 10 and 14 of the
 * paper), and those whose middle is exactly 360 have it at 0. */
const hueSlack = 1e-9

/** Two colours in the paper's L', a', b' with what their hues do not matter to. The steps from one to the
 * other are kept beside them, since they would lose digits where colours are close. */
interface Pair {
  readonly a1: number
  readonly b1: number
  readonly a2: number
  readonly b2: number
  readonly c1: number
  readonly c2: number
  readonly lightStep: number
  readonly aStep: number
  readonly bStep: number
  readonly meanL: number
  readonly meanC: number
}

/** The difference from one colour to another, of finite values. The other way round, parts have the other
 * sign and the total is the same. */
export function difference(from: Lab, to: Lab): Difference {
  const p = pairOf(from, to)
  const [h1, h2] = hues(p)
  const mean = middle(h1, h2)
  const t = 1 - 0.17 * cosine(mean - 30) + 0.24 * cosine(2 * mean) + 0.32 * cosine(3 * mean + 6) - 0.2 * cosine(4 * mean - 63)
  const off = (p.meanL - 50) * (p.meanL - 50)
  const around = (mean - 275) / 25

  const l = p.lightStep / (1 + (0.015 * off) / Math.sqrt(20 + off))
  const c = chromaStep(p) / (1 + 0.045 * p.meanC)
  const h = hueStep(p, h2 - h1) / (1 + 0.015 * p.meanC * t)
  const rotation = -2 * seventh(p.meanC) * Math.sin(radians(60 * Math.exp(-around * around)))
  // Rotation is within 2 of 0, so only rounding brings this below 0.
  const total = Math.sqrt(Math.max(0, l * l + c * c + h * h + rotation * c * h))
  return { total, lightness: l, chroma: c, hue: h, rotation }
}

function pairOf(from: Lab, to: Lab): Pair {
  const stretch = 1.5 - 0.5 * seventh((chroma(from) + chroma(to)) / 2)
  const a1 = stretch * from.a
  const a2 = stretch * to.a
  const c1 = Math.hypot(a1, from.b)
  const c2 = Math.hypot(a2, to.b)
  return {
    a1, b1: from.b, a2, b2: to.b, c1, c2,
    lightStep: to.L - from.L, aStep: stretch * (to.a - from.a), bStep: to.b - from.b,
    meanL: (from.L + to.L) / 2, meanC: (c1 + c2) / 2,
  }
}

/** sqrt(c^7 / (c^7 + 25^7)), in a form that no c is too large or too small for. */
function seventh(c: number): number {
  return 1 / Math.sqrt(1 + Math.pow(25 / c, 7))
}

/** The paper's h' in degrees, the second brought within half a turn of the first, so that their difference
 * and their middle are the paper's. Grey has no hue and takes the other's. */
function hues({ a1, b1, a2, b2, c1, c2 }: Pair): readonly [number, number] {
  const h1 = hue(a1, b1)
  const h2 = hue(a2, b2)
  if (c1 === 0) return [h2, h2]
  if (c2 === 0) return [h1, h1]
  if (h2 - h1 > 180 + hueSlack) return [h1, h2 - 360]
  if (h1 - h2 > 180 + hueSlack) return [h1, h2 + 360]
  return [h1, h2]
}

/** From 0 to 360 degrees. */
function hue(a: number, b: number): number {
  const h = degrees(Math.atan2(b, a))
  return h < 0 ? h + 360 : h
}

/** From 0 to 360 degrees too: the rotation jumps a little from the one to the other. */
function middle(h1: number, h2: number): number {
  const mean = (h1 + h2) / 2
  if (mean < -hueSlack) return mean + 360
  return mean >= 360 - hueSlack ? mean - 360 : mean
}

/** C2' - C1', from steps and not from the two. */
function chromaStep(p: Pair): number {
  if (p.meanC === 0) return 0
  return (p.aStep * (p.a1 + p.a2) + p.bStep * (p.b1 + p.b2)) / (2 * p.meanC)
}

/** The paper's dH', of which the angle between the two colours gives more digits than the difference of
 * their hues; that difference still says which way round the angle goes. */
function hueStep(p: Pair, turn: number): number {
  // Either colour will do; the smaller is more exact where it is far smaller.
  const [a, b] = p.c2 < p.c1 ? [p.a2, p.b2] : [p.a1, p.b1]
  const between = degrees(Math.atan2(a * p.bStep - b * p.aStep, p.a1 * p.a2 + p.b1 * p.b2))
  const angle = between + 360 * Math.round((turn - between) / 360)
  return 2 * Math.sqrt(p.c1 * p.c2) * Math.sin(radians(angle / 2))
}

const degrees = (rad: number) => rad * (180 / Math.PI)
const radians = (deg: number) => deg * (Math.PI / 180)
const cosine = (deg: number) => Math.cos(radians(deg))
