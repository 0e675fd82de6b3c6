// How large a head is drawn: its area is its stems, on one scale for all seasons of the bed.

import type { BedPast, Stems } from './bed_picture_past'

// Shares of a place's room. Heads of the best plants reach into their neighbours', as the plants do.
const largest = 0.56
const least = 0.13
/** Of a plant whose stems nobody recorded: a size that says nothing. */
const plain = 0.3
const seedlingSide = 0.15

/** How far apart plants are drawn that are said to stand on one place. */
export const samePlacePitch = 0.34
/** How far from its plant's middle a seedling is drawn. */
export const besidePitch = 0.46

/** A young bed's few stems should not look like a full one. */
const fewest = 10

type Scale = Pick<BedPast, 'most' | 'ground'>

/** The radius of a head in the bed's millimetres; half the side of a seedling's mark. */
export function radiusOf(scale: Scale, { stems, seedling }: { readonly stems: Stems; readonly seedling: boolean }): number {
  const { pitch } = scale.ground
  if (seedling) return seedlingSide * pitch
  return stems.told === 'nobody' ? plain * pitch : radiusOfStems(scale, stems.n)
}

export function radiusOfStems(scale: Scale, n: number): number {
  return Math.max(least, largest * Math.sqrt(n / atMost(scale))) * scale.ground.pitch
}

/** Up to how many stems heads are drawn alike, since they would be too small to be seen. */
export function drawnAlike(scale: Scale): number {
  return Math.floor((least / largest) ** 2 * atMost(scale))
}

/** Three round numbers of stems for the key: about a tenth, a third and all of the most. */
export function sampleStems(scale: Scale): number[] {
  return [0.12, 0.4, 1].map((share) => roundedDown(atMost(scale) * share))
}

function atMost({ most }: Scale): number {
  return Math.max(fewest, most)
}

/** The next lower of 1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80 and these by tens. */
function roundedDown(n: number): number {
  const steps = n < 10 ? [1, 2, 3, 4, 5, 6, 8] : [10, 12, 15, 20, 25, 30, 40, 50, 60, 80]
  const unit = n < 100 ? 1 : 10 ** Math.floor(Math.log10(n / 10))
  return unit * (steps.findLast((step) => step <= n / unit) ?? 1)
}
