// The pixels of one head: from a rough region to a mask, by how often each colour stands in it and around it.

import type { Calibration } from './calibration'
import { reduced, type Box, type LabImage } from './labimage'
import { above, blurred, heaviest, withoutAppendages, withoutHoles, type Mask } from './mask'
import type { Picture } from './picture'

export interface HeadMask {
  readonly image: LabImage
  readonly mask: Mask
}

/** The image of a head is at most so many pixels wide and high. */
const most = 220

/**
 * What a head has no part of: another head or a finger that hangs on by less than this part of its breadth and is not
 * smaller than this part of it, and a leaf or a stalk, by less and smaller.
 */
const appendages = [[0.6, 0.06], [0.2, 0.012]] as const

const bins = 7
const [countL, countA, countB] = [16, 30, 32]

/**
 * rough are pixels of the image of; the rest of the photo is held to be no head where closed says so, given in
 * pixels of the photo. undefined where nothing is left of it.
 */
export function refinedMask(picture: Picture, calibration: Calibration, of: LabImage, rough: Uint8Array, closed: (x: number, y: number) => boolean): HeadMask | undefined {
  const box = around(picture, of, rough)
  if (box === undefined) return undefined
  const by = Math.max(1, Math.ceil(Math.max(box.right - box.left, box.bottom - box.top) / most))
  const image = reduced(picture, box, by, calibration)
  const { width, height, step } = image
  const open = new Uint8Array(width * height)
  let on = new Float32Array(width * height)
  for (let y = 0, p = 0; y < height; y++) {
    for (let x = 0; x < width; x++, p++) {
      const [px, py] = [image.left + (x + 0.5) * step, image.top + (y + 0.5) * step]
      open[p] = closed(px, py) ? 0 : 1
      const [rx, ry] = [Math.floor((px - of.left) / of.step), Math.floor((py - of.top) / of.step)]
      on[p] = rx >= 0 && ry >= 0 && rx < of.width && ry < of.height ? rough[ry * of.width + rx]! : 0
    }
  }
  const size = Math.sqrt((4 / Math.PI) * on.reduce((sum, v) => sum + v, 0))
  const binOf = binned(image)
  let mask: Mask | undefined
  for (const reach of [0.08, 0.05]) {
    const soft = blurred(on, width, height, Math.max(1, Math.round(size * reach)))
    const evidence = evidenceOf(binOf, coreOf(on, width, height, size), soft, open)
    const even = blurred(evidence, width, height, Math.max(1, Math.round(size * 0.012)))
    const part = withoutHoles(heaviest(above(even, width, height, 0), soft))
    const smooth = blurred(Float32Array.from(part.on), width, height, Math.max(1, Math.round(size * 0.02)))
    mask = heaviest(above(smooth, width, height, 0.5))
    for (const [neck, part] of appendages) mask = heaviest(withoutAppendages(mask, neck, part))
    mask = withoutHoles(mask)
    on = Float32Array.from(mask.on)
  }
  return mask !== undefined && mask.on.includes(1) ? { image, mask } : undefined
}

function around(picture: Picture, of: LabImage, rough: Uint8Array): Box | undefined {
  let [left, top, right, bottom] = [of.width, of.height, -1, -1]
  for (let p = 0; p < rough.length; p++) {
    if (rough[p] === 0) continue
    const x = p % of.width
    const y = (p - x) / of.width
    left = Math.min(left, x)
    right = Math.max(right, x)
    top = Math.min(top, y)
    bottom = Math.max(bottom, y)
  }
  if (right < 0) return undefined
  const margin = 0.3 * Math.max(right - left + 1, bottom - top + 1) + 2
  const pixel = (start: number, at: number, end: number) => Math.min(end, Math.max(0, Math.round((start + at * of.step) / picture.step)))
  return {
    left: pixel(of.left, left - margin, picture.width),
    top: pixel(of.top, top - margin, picture.height),
    right: pixel(of.left, right + 1 + margin, picture.width),
    bottom: pixel(of.top, bottom + 1 + margin, picture.height),
  }
}

function binned({ lab, width, height }: LabImage): Int32Array {
  const binOf = new Int32Array(width * height)
  for (let p = 0; p < binOf.length; p++) {
    const l = Math.min(countL - 1, Math.max(0, Math.floor(lab[3 * p]! / bins)))
    const a = Math.min(countA - 1, Math.max(0, Math.floor((lab[3 * p + 1]! + 100) / bins)))
    const b = Math.min(countB - 1, Math.max(0, Math.floor((lab[3 * p + 2]! + 100) / bins)))
    binOf[p] = (l * countA + a) * countB + b
  }
  return binOf
}

/** The midst of a head: what has come in at its border from beside it tells nothing of its colours. */
function coreOf(on: Float32Array, width: number, height: number, size: number): Uint8Array {
  const deep = blurred(on, width, height, Math.max(1, Math.round(size * 0.12)))
  const core = new Uint8Array(on.length)
  let [count, all] = [0, 0]
  for (let p = 0; p < core.length; p++) {
    core[p] = deep[p]! > 0.97 ? 1 : 0
    count += core[p]!
    all += on[p]!
  }
  return count > 0.15 * all ? core : Uint8Array.from(on)
}

/** The logarithm of how much likelier each pixel is the head's than not, from its colour and from where it lies. */
function evidenceOf(binOf: Int32Array, core: Uint8Array, soft: Float32Array, open: Uint8Array): Float32Array {
  const inside = new Float32Array(countL * countA * countB)
  const around = new Float32Array(inside.length)
  let [ins, outs] = [0, 0]
  for (let p = 0; p < soft.length; p++) {
    if (open[p] === 0) continue
    if (core[p] === 1) {
      inside[binOf[p]!]! += 1
      ins++
    } else if (soft[p]! < 0.25) {
      around[binOf[p]!]! += 1
      outs++
    }
  }
  const likely = spreadOut(inside)
  const unlikely = spreadOut(around)
  const evidence = new Float32Array(soft.length)
  for (let p = 0; p < soft.length; p++) {
    const prior = Math.min(0.97, Math.max(0.03, soft[p]!))
    const f = likely[binOf[p]!]! / Math.max(1, ins) + 1e-4
    const g = unlikely[binOf[p]!]! / Math.max(1, outs) + 1e-4
    evidence[p] = open[p] === 0 ? -4 : Math.min(3, Math.max(-3, Math.log(f / g))) + 0.7 * Math.log(prior / (1 - prior))
  }
  return evidence
}

/** Counts by colour, each spread over its bin's neighbours. */
function spreadOut(counts: Float32Array): Float32Array {
  let from = counts
  for (const [stride, n] of [[countA * countB, countL], [countB, countA], [1, countB]] as const) {
    const to = new Float32Array(from.length)
    for (let i = 0; i < from.length; i++) {
      const v = from[i]!
      if (v === 0) continue
      const place = Math.floor(i / stride) % n
      to[i]! += v / 2
      if (place > 0) to[i - stride]! += v / 4
      if (place < n - 1) to[i + stride]! += v / 4
    }
    from = to
  }
  return from
}
