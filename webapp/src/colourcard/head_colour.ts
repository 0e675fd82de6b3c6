// The colour of a head from its pixels: the mean light that its petals send back, as the card's calibration tells it.
//
// It is a mean in linear light: that is what a head sends to an eye too far away to see its florets, and it stays the
// same however small or blurred the photo is. What is no petal (gaps, drops that shine) was left out before. Of the rest
// as much is left out at the light end as at the dark one, so that neither a few drops nor what burnt out moves it.

import { D50, labOf, type Lab } from '../colour/lab'
import { told, type Calibration, type Told } from './calibration'
import { vividness, type Fit } from './fit'
import type { Petals } from './head'
import type { Picture } from './picture'
import type { Pose } from './pose'

export interface HeadColour {
  readonly lab: Lab
  /** Of L, a and b, 3 by 3 by rows. */
  readonly covariance: Float64Array
  /** Shares of its pixels with a channel at its upper and at its lower end. */
  readonly burnt: number
  readonly black: number
}

/** Some of a head's pixels, evenly from all of it. */
export interface Sampled {
  readonly count: number
  /** Linear light of red, green and blue, and where in the photo each is: x and y. */
  readonly light: Float32Array
  readonly place: Float32Array
  /** Shares with each channel at its upper and at its lower end. */
  readonly burnt: readonly [number, number, number]
  readonly black: readonly [number, number, number]
}

/** Pixels that are looked at, at most about: more would not tell the mean better. */
const enough = 12_000
/** Share that is left out at either end; more where more is burnt out. */
const [leastTrimmed, mostTrimmed] = [0.05, 0.4]

/** What neither the card nor the head shows. */
export interface Beyond {
  /** Standard deviation of the light on the head over that on the card, as a logarithm. */
  readonly light: number
  /** Standard uncertainties of each component. */
  readonly print: Lab
}

/** undefined where there is no pixel. */
export function headColour(sampled: Sampled, pose: Pick<Pose, 'toCard'>, fit: Fit, calibration: Calibration, beyond: Beyond): HeadColour | undefined {
  if (sampled.count === 0) return undefined
  const lab = new Float32Array(3 * sampled.count)
  const { light, place } = sampled
  for (let k = 0; k < sampled.count; k++) calibration.lab(light[3 * k]!, light[3 * k + 1]!, light[3 * k + 2]!, place[2 * k]!, place[2 * k + 1]!, lab, 3 * k)
  const burnt = Math.max(...sampled.burnt)
  const centre = centreOf(sampled, lab, Math.min(mostTrimmed, leastTrimmed + burnt))
  const at = told(fit, pose, centre.light, centre.x, centre.y)
  const covariance = Float64Array.from(at.covariance)
  addTexture(covariance, centre.lab, middleOf(lab))
  for (let channel = 0; channel < 3; channel++) {
    addShift(covariance, at, channel, beyondUpper * sampled.burnt[channel]! * centre.light[channel]!)
    addShift(covariance, at, channel, -beyondLower * sampled.black[channel]! * Math.max(...centre.light))
  }
  addLight(covariance, at.lab, beyond.light)
  const print = [beyond.print.L, beyond.print.a, beyond.print.b]
  addFading(covariance, at.lab, Math.max(0, 1 - vividness(fit.theta)))
  for (let k = 0; k < 3; k++) covariance[4 * k]! += floor[k]! ** 2 + print[k]! ** 2
  return { lab: centre.lab, covariance, burnt, black: Math.max(...sampled.black) }
}

/** What is left in any case, in L, a and b: light is never quite as the model has it. */
const floor = [0.27, 0.32, 0.32]
/** By how much of its light a burnt-out channel is above what it shows, and by how much of the brightest channel's a black one may be below 0. */
const beyondUpper = 0.3
const beyondLower = 0.02
/** Share of the distance from mean to median by which a head's texture leaves open where its centre is. */
const byTexture = 0.5

export function sampledOf(picture: Picture, { box, on }: Petals): Sampled {
  let all = 0
  for (let p = 0; p < on.length; p++) all += on[p]!
  const every = Math.max(1, Math.floor(all / enough))
  const count = Math.floor(all / every)
  const light = new Float32Array(3 * count)
  const place = new Float32Array(2 * count)
  const ends = new Float64Array(6)
  const width = box.right - box.left
  for (let p = 0, seen = 0, k = 0; p < on.length && k < count; p++) {
    if (on[p] === 0 || seen++ % every !== 0) continue
    const x = box.left + (p % width)
    const y = box.top + Math.floor(p / width)
    const from = y * picture.width + x
    for (let channel = 0; channel < 3; channel++) light[3 * k + channel] = picture.light[3 * from + channel]!
    place[2 * k] = (x + 0.5) * picture.step
    place[2 * k + 1] = (y + 0.5) * picture.step
    for (let bit = 0; bit < 6; bit++) ends[bit]! += (picture.ends[from]! >> bit) & 1
    k++
  }
  const [r, g, b, r0, g0, b0] = ends.map((n) => n / Math.max(1, count)) as unknown as readonly [number, number, number, number, number, number]
  return { count, light, place, burnt: [r, g, b], black: [r0, g0, b0] }
}

interface Centre {
  readonly lab: Lab
  /** The mean linear light of the photo's channels, and where in the photo its middle is. */
  readonly light: readonly [number, number, number]
  readonly x: number
  readonly y: number
}

function centreOf({ count, light, place }: Sampled, lab: Float32Array, trimmed: number): Centre {
  const lightness = new Float32Array(count)
  for (let k = 0; k < count; k++) lightness[k] = lab[3 * k]!
  lightness.sort()
  const least = lightness[Math.floor(trimmed * count)]!
  const most = lightness[Math.min(count - 1, Math.ceil((1 - trimmed) * count))]!
  const sums = new Float64Array(8)
  let n = 0
  for (let k = 0; k < count; k++) {
    const L = lab[3 * k]!
    if (L < least || L > most) continue
    n++
    const y = (L + 16) / 116
    sums[0]! += D50.X * cube(y + lab[3 * k + 1]! / 500)
    sums[1]! += cube(y)
    sums[2]! += D50.Z * cube(y - lab[3 * k + 2]! / 200)
    for (let channel = 0; channel < 3; channel++) sums[3 + channel]! += light[3 * k + channel]!
    sums[6]! += place[2 * k]!
    sums[7]! += place[2 * k + 1]!
  }
  const [X, Y, Z, r, g, b, x, y] = sums.map((sum) => sum / n) as unknown as readonly [number, number, number, number, number, number, number, number]
  return { lab: labOf({ X, Y, Z }, D50), light: [r, g, b], x, y }
}

/** As of CIELAB, here once more since it runs for every pixel (CIE 15:2004, 8.2.1, undone). */
function cube(f: number): number {
  const t = f * f * f
  return t > 216 / 24389 ? t : (116 * f - 16) / (24389 / 27)
}

function middleOf(lab: Float32Array): Lab {
  const middle = (component: number) => {
    const values = new Float32Array(lab.length / 3)
    for (let k = 0; k < values.length; k++) values[k] = lab[3 * k + component]!
    return values.sort()[values.length >> 1]!
  }
  return { L: middle(0), a: middle(1), b: middle(2) }
}

function addTexture(covariance: Float64Array, mean: Lab, median: Lab): void {
  covariance[0]! += (byTexture * (mean.L - median.L)) ** 2
  covariance[4]! += (byTexture * (mean.a - median.a)) ** 2
  covariance[8]! += (byTexture * (mean.b - median.b)) ** 2
}

/** What the card's inks have lost, were the fit's paleness theirs and not the camera's: colours seem the stronger by it. */
function addFading(covariance: Float64Array, { a, b }: Lab, paler: number): void {
  const shift = [0, a * paler, b * paler]
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) covariance[3 * i + j]! += shift[i]! * shift[j]!
}

/** What so much more light would change, as a logarithm: X, Y and Z alike, and each component with their cube roots. */
function addLight(covariance: Float64Array, { L, a, b }: Lab, by: number): void {
  const shift = [((L + 16) * by) / 3, (a * by) / 3, (b * by) / 3]
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) covariance[3 * i + j]! += shift[i]! * shift[j]!
}

/** What a channel's light being so much more would change. */
function addShift(covariance: Float64Array, { lab, moved }: Told, channel: number, by: number): void {
  if (by === 0) return
  const to = moved(channel, by)
  const shift = [to.L - lab.L, to.a - lab.a, to.b - lab.b]
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) covariance[3 * i + j]! += shift[i]! * shift[j]!
}
