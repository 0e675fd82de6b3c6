// A camera's tone curve: what it makes of a channel's light before that is encoded, by four numbers.

import { encoded } from '../colour/rgb'

/**
 * A shoulder that holds bright light back, and a bend, an S and a skew of encoded values, all 0 for the bare curve of
 * IEC 61966-2-1:
 *
 *     y = light below a knee, then knee + (1 - knee) (1 - exp(-(light - knee) / (1 - knee)))
 *     w = encoded(y)
 *     value = w + w (1 - w) (bend + s (1 - 2 w) + skew (1 - 2 w)^2)
 *
 * An s below 0 is the usual curve: -1 is 3 w^2 - 2 w^3. It is a family of our own that is smooth, has its ends where
 * they belong, and comes near to the curves that are drawn through pictures.
 */
export interface Tone {
  /** Any number: below 0 there is hardly a shoulder, at 1 it begins at a third of full light. */
  readonly shoulder: number
  readonly bend: number
  readonly s: number
  readonly skew: number
}

export function toned({ shoulder, bend, s, skew }: Tone, light: number): number {
  const w = encoded(heldBack(light, kneeOf(shoulder)))
  const turn = 1 - 2 * w
  return w + w * (1 - w) * (bend + turn * (s + turn * skew))
}

/** The knee is 1 - 2/3 of a number that softly stays above 0. */
function kneeOf(shoulder: number): number {
  const positive = Math.log1p(Math.exp(12 * shoulder)) / 12
  return Math.max(0.05, 1 - (2 / 3) * positive)
}

function heldBack(light: number, knee: number): number {
  return light <= knee ? light : knee + (1 - knee) * (1 - Math.exp(-(light - knee) / (1 - knee)))
}

/** No more light than this is told of a value at the end of its scale: full light three times over. */
export const mostLight = 3

/** Undoes toned: the light of a value, 0 to mostLight, by halving. Where the curve falls, one of them. */
export function untoned(tone: Tone, value: number): number {
  let [low, high] = [0, mostLight]
  if (!(value > 0)) return 0
  if (value >= toned(tone, mostLight)) return mostLight
  for (let i = 0; i < 44; i++) {
    const middle = (low + high) / 2
    if (toned(tone, middle) < value) low = middle
    else high = middle
  }
  return (low + high) / 2
}
