// Finding a batch's colours by photo: the patch of known colour as it is typed, and what the photos come to.

import type { Lab } from '../colour/lab'
import { type CardColours, type CardSeen, together } from '../colourcard/characterise'
import type { FailureReason } from '../measuring/worker_messages'
import { parts, type TypedColour } from './card_typed'
import { readNumber } from './cards'

/**
 * Standard uncertainty of each component of a patch that was bought, or of a photographer's grey, as its sheet tells
 * it: half a unit of its making and about as much from age and handling. Common practice, no source.
 */
export const patchSE = 0.8

/** Greys too dark or light tell little of exposure: one burns out and the other drowns. */
const lightness = { least: 25, most: 92 } as const
/** How far from grey a patch may be. */
const mostChroma = 60

export type PatchProblem = 'missing' | 'lightness' | 'chroma'

/** The colour of the patch, or what is wrong with it. */
export function patchTyped(typed: TypedColour): Lab | PatchProblem {
  const [L, a, b] = parts.map((part) => readNumber(typed[part]))
  if (L === undefined || a === undefined || b === undefined) return 'missing'
  if (L < lightness.least || L > lightness.most) return 'lightness'
  return Math.hypot(a, b) > mostChroma ? 'chroma' : { L, a, b }
}

/** One photo that was chosen, and what became of it. */
export interface CardPhoto {
  readonly id: number
  readonly state: 'measuring' | { readonly seen: CardSeen } | { readonly failed: FailureReason }
}

/** What all photos come to; undefined where none tells anything yet. */
export function foundIn(photos: readonly CardPhoto[], by: 'card' | 'patch'): CardColours | undefined {
  return together(photos.flatMap(({ state }) => (typeof state === 'object' && 'seen' in state ? [state.seen] : [])), by)
}

/** Photos after which another tells little more. */
export const enoughPhotos = 3

export function goodPhotos(photos: readonly CardPhoto[]): number {
  return photos.filter(({ state }) => typeof state === 'object' && 'seen' in state && state.seen.patches).length
}
