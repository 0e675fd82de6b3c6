// Which of a head's pixels make its colour: petals, and not glare, the shade between florets, their centres or
// the head's edge.

import type { HeadMask } from './headmask'
import { blurred } from './mask'

/** 1 for the pixels of the head's image that make its colour. */
export function petalsOf({ image, mask }: HeadMask): Uint8Array {
  const { width, height, lab } = image
  const size = Math.sqrt((4 / Math.PI) * mask.on.reduce((sum, v) => sum + v, 0))
  const edge = Math.max(1, Math.round(size * 0.03))
  const deep = blurred(Float32Array.from(mask.on), width, height, edge)
  const chosen = new Uint8Array(width * height)
  for (let p = 0; p < chosen.length; p++) chosen[p] = deep[p]! > 0.995 ? 1 : 0
  if (!chosen.includes(1)) chosen.set(mask.on)
  for (let round = 0; round < 3; round++) trim(chosen, lab)
  return chosen
}

function trim(chosen: Uint8Array, lab: Float32Array): void {
  let count = 0
  for (let p = 0; p < chosen.length; p++) count += chosen[p]!
  const [L, a, b] = [0, 1, 2].map(k => middleOf(chosen, count, lab, k)) as [Middle, Middle, Middle]
  for (let p = 0; p < chosen.length; p++) {
    if (chosen[p] === 0) continue
    const dL = (lab[3 * p]! - L.middle) / L.deviation
    const da = (lab[3 * p + 1]! - a.middle) / a.deviation
    const db = (lab[3 * p + 2]! - b.middle) / b.deviation
    if (Math.abs(dL) > 2.5 || Math.hypot(da, db) > 3) chosen[p] = 0
  }
}

interface Middle {
  readonly middle: number
  readonly deviation: number
}

/** Of so many pixels at most medians are taken: their error is then a fortieth of the deviation. */
const enough = 3000

/** The median and the deviation of a component, which of a normal distribution's is the standard one. */
function middleOf(chosen: Uint8Array, count: number, lab: Float32Array, component: number): Middle {
  const every = Math.ceil(count / enough)
  const values = new Float32Array(Math.floor(count / every))
  for (let p = 0, n = 0; p < chosen.length; p++) {
    if (chosen[p] === 0) continue
    if (n % every === 0 && n / every < values.length) values[n / every] = lab[3 * p + component]!
    n++
  }
  values.sort()
  const middle = values[values.length >> 1]!
  for (let k = 0; k < values.length; k++) values[k] = Math.abs(values[k]! - middle)
  values.sort()
  return { middle, deviation: Math.max(1.5, 1.4826 * values[values.length >> 1]!) }
}
