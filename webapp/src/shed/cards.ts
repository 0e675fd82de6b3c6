// Batches of colour cards: how well a batch's colours are known, how old it is, and the facts that say so.

import type { Lab } from '../colour/lab'
import { asPrinted } from '../colourcard/as_printed'
import { parseDay } from '../crop/day'
import type { Card, CardID, Day, Farm } from '../crop/nouns'
import { batchCode, isTagCode, normalCode } from '../crop/tag_code'
import { isCharacterised, isRetired, knownCards, type KnownCards, scaleLength } from '../measuring/known_cards'
import type { Paper } from '../ui/paper'

/** Cards on a sheet, as internal/tags lays them; its tests hold both to the same. */
export const cardsPerSheet: Readonly<Record<Paper, number>> = { a4: 8, letter: 8 }

/** Days after which a batch is taken to have faded: a season and some weeks. Common practice, no source. */
export const oldAfter = 400

/** Standard uncertainty, in each of L, a and b, of colours that an instrument measured: half a unit of its own, and as much from one card to the next. */
export const typedSE = 0.7

/** What measuring takes a batch to be: one that is not characterised, as it was printed. */
export function takenAs(card: Card): Pick<Card, 'patches' | 'se'> {
  return isCharacterised(card) ? card : asPrinted
}

/** Batches whose colours were measured, so that others can be told by them. */
export function referenceCards(farm: Pick<Farm, 'cards'>, day: Day, except: CardID): KnownCards {
  const measured = (id: string) => id !== except && farm.cards.get(id as CardID)?.how !== 'as_printed'
  return new Map([...knownCards(farm, day)].filter(([id]) => measured(id)))
}

/** Whole days since a batch was printed; undefined where that is not known. */
export function ageOf(card: Card, day: Day): number | undefined {
  return card.printed === '' ? undefined : Math.max(0, Math.round((Date.parse(day) - Date.parse(card.printed)) / 86_400_000))
}

export function isOld(card: Card, day: Day): boolean {
  return (ageOf(card, day) ?? 0) > oldAfter
}

/** Those in use first, and among each the newest. */
export function inOrder(farm: Farm, day: Day): readonly Card[] {
  return [...farm.cards.values()].sort((a, b) =>
    Number(isRetired(a, day)) - Number(isRetired(b, day)) || b.printed.localeCompare(a.printed) || a.id.localeCompare(b.id))
}

/** A batch; one of which nothing was told yet is there as well, as a card in hand may name it. */
export function cardOf(farm: Farm, id: string): Card | undefined {
  const known = farm.cards.get(id as CardID)
  if (known) return known
  return isTagCode(id) ? { id: normalCode(id) as CardID, printed: '', patches: [], se: 0, how: '', measured: '', retired: '', scale: 0 } : undefined
}

/** The code of a batch that the farm has not got. */
export function newBatch(farm: Farm): CardID {
  for (;;) {
    const batch = batchCode(crypto.getRandomValues(new Uint8Array(64)))
    if (!farm.cards.has(batch)) return batch
  }
}

/** Why a batch that was printed elsewhere cannot be added. */
export function additionProblem(farm: Farm, typed: string, printed: string, day: Day): 'code' | 'known' | 'day' | undefined {
  if (!isTagCode(typed)) return 'code'
  if (farm.cards.has(normalCode(typed) as CardID)) return 'known'
  const on = parseDay(printed)
  return on !== undefined && on <= day ? undefined : 'day'
}

/** What the scale of 80 mm may measure: a page fitted to another paper's size loses 6 in 100. */
export const scaleBounds = { least: 70, most: 90 } as const

/** By how much in a hundred a card came out too large, or too small where it is below 0. */
export function scaleError(card: Card): number {
  return card.scale === 0 ? 0 : (card.scale / scaleLength - 1) * 100
}

/** A number however it was typed: with a comma or a point, and any of the signs for less than nothing. */
export function readNumber(typed: string): number | undefined {
  const text = typed.trim().replace(/^[−–]/, '-').replace(',', '.')
  return /^-?\d{1,3}(\.\d{1,4})?$/.test(text) ? Number(text) : undefined
}

/** Distance in CIELAB, which is enough to tell a slip from a poor print. */
export function distance(one: Lab, other: Lab): number {
  return Math.hypot(one.L - other.L, one.a - other.a, one.b - other.b)
}
