// What the farm knows of its batches of colour cards, as measuring asks for it.

import { asPrinted, scaleMeasured, scaleUnmeasured } from '../colourcard/as_printed'
import { cardColours } from '../colourcard/geometry'
import type { KnownCard } from '../colourcard/measurement'
import type { Card, CardHow, CardID, Day, Farm } from '../crop/nouns'
import { uncertaintyOf } from './uncertainty'

/** The printed scale's length in the card's own millimetres. */
export const scaleLength = 80

/** A batch as it is on a day. */
export interface BatchKnown extends KnownCard {
  /** Whether its colours are more than what was sent to the printer. */
  readonly measured: boolean
  /** The day on which it was retired; '' while it is in use. */
  readonly retiredOn: Day | ''
}

/** The batches that were characterised, and those that are no longer used, by their codes. */
export type KnownCards = ReadonlyMap<string, BatchKnown>

export function knownCards(farm: Pick<Farm, 'cards'>, day: Day): KnownCards {
  return new Map([...farm.cards.values()].filter((card) => isMeasured(card) || isRetired(card, day)).map((card) => [card.id, knownCard(card, day)]))
}

/** Whether a batch can be measured by: every colour of its layout is told, how well, and whence. */
export function isCharacterised(card: Card): card is Card & { readonly how: CardHow } {
  return card.patches.length === cardColours.length && card.se > 0 && card.how !== ''
}

/** Colours that were taken as they were sent to the printer are what a photo takes of an unknown batch, as unsure as of one. */
function isMeasured(card: Card): boolean {
  return isCharacterised(card) && card.how !== 'as_printed'
}

function knownCard(card: Card, day: Day): BatchKnown {
  const measured = isMeasured(card)
  const { patches, se } = measured ? card : asPrinted
  const scaled = card.scale > 0
  const scale = scaled ? card.scale / scaleLength : 1
  return { patches, se, scale, scaleSE: scaled ? scaleMeasured : scaleUnmeasured, measured, retired: isRetired(card, day), retiredOn: card.retired }
}

/**
 * A batch as it was when a photo was taken: what a file shows was measured by cards that were in use then. The day itself
 * counts as in use, as at the shed (server/colour.go); '' is of now.
 */
export function batchOn(batch: BatchKnown | undefined, day: Day | ''): KnownCard | undefined {
  if (!batch || day === '') return batch
  const retired = batch.retiredOn !== '' && batch.retiredOn < day
  return batch.measured || retired ? { ...batch, retired } : undefined
}

export function isRetired(card: Pick<Card, 'retired'>, day: Day): boolean {
  return card.retired !== '' && card.retired <= day
}

export type CardState = 'known' | 'unknown' | 'retired'

/** How a batch in hand stands: one that was retired is so whether or not it was ever characterised. */
export function stateOfCard(farm: Pick<Farm, 'cards'>, batch: string, day: Day): CardState {
  const card = farm.cards.get(batch as CardID)
  if (card && isRetired(card, day)) return 'retired'
  return card && isCharacterised(card) ? 'known' : 'unknown'
}

/** How far a card's colours may lie from what is known of them, in CIEDE2000 as a root mean square: what is said of a photo too. */
export function offBy({ patches, se }: Pick<Card, 'patches' | 'se'>): number {
  const all = patches.map((lab) => uncertaintyOf(lab, { L: se, a: se, b: se }))
  return Math.sqrt(all.reduce((sum, one) => sum + one * one, 0) / all.length)
}

/** A distance as it is told: whole, or in tenths where it is small. */
export function shownUnits(distance: number): number {
  return distance < 3 ? Math.round(distance * 10) / 10 : Math.round(distance)
}
