// What is known of batches of cards, from a JSON file, by their codes:
//
//   {"6GRATJ": {"patches": [[L, a, b], …], "se": 0.5, "scale": 1, "retired": false}}
//
// patches are CIELAB under D50 in the order of the card's colours (src/colourcard/geometry.ts): five greys from dark to
// light, six colours, the bare paper. se is their standard uncertainty in each component. scale (1, and unsure, where it
// is left out) is how many real millimetres one of the card's is, and retired (false) says that they are no longer used.

import { readFile } from 'node:fs/promises'
import type { Lab } from '../src/colour/lab'
import { scaleMeasured, scaleUnmeasured } from '../src/colourcard/as_printed'
import { cardColours } from '../src/colourcard/geometry'
import type { KnownCard } from '../src/colourcard/measurement'
import { fromCaller } from './open'

/** A file of cards that is none, with what is wrong in it. */
export class BadCards extends Error {}

/** Rejects with BadCards. */
export async function cardsIn(file: string): Promise<ReadonlyMap<string, KnownCard>> {
  let parsed: unknown
  try {
    parsed = JSON.parse(await readFile(fromCaller(file), 'utf8'))
  } catch (cause) {
    throw new BadCards(`reading cards from ${file}: ${cause instanceof Error ? cause.message : String(cause)}`, { cause })
  }
  if (!isObject(parsed)) throw new BadCards(`reading cards from ${file}: it is no object of batches by their codes`)
  return new Map(Object.entries(parsed).map(([batch, card]) => [batch, cardOf(card, `reading batch ${batch} from ${file}`)]))
}

function cardOf(card: unknown, doing: string): KnownCard {
  if (!isObject(card)) throw new BadCards(`${doing}: it is no object`)
  const { patches, se, scale, retired = false } = card
  if (!Array.isArray(patches) || patches.length !== cardColours.length) throw new BadCards(`${doing}: give "patches", ${cardColours.length} colours as [L, a, b]`)
  if (!isPositive(se)) throw new BadCards(`${doing}: give "se", the patches' standard uncertainty, above 0`)
  if (scale !== undefined && !isPositive(scale)) throw new BadCards(`${doing}: "scale" is no number above 0`)
  if (typeof retired !== 'boolean') throw new BadCards(`${doing}: "retired" is neither true nor false`)
  return { patches: patches.map((patch, i) => labOf(patch, `${doing}: patch ${i + 1}`)), se, scale: scale ?? 1, scaleSE: scale === undefined ? scaleUnmeasured : scaleMeasured, retired }
}

function labOf(patch: unknown, doing: string): Lab {
  if (!Array.isArray(patch) || patch.length !== 3 || !patch.every((v) => typeof v === 'number' && Number.isFinite(v))) throw new BadCards(`${doing} is no [L, a, b]`)
  const [L, a, b] = patch as [number, number, number]
  return { L, a, b }
}

const isObject = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value)
const isPositive = (value: unknown): value is number => typeof value === 'number' && value > 0 && value < Infinity
