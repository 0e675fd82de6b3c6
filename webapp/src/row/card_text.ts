// What is said of the batch of a card in hand whose colours are told: whence they are, and how far off they may be.

import type { Card, CardHow, Day } from '../crop/nouns'
import { offBy, shownUnits } from '../measuring/known_cards'
import { count, dayName, t } from '../messages/messages'

export function knownCardText({ id, how, ...card }: Pick<Card, 'id' | 'patches' | 'se' | 'measured'> & { readonly how: CardHow }, today: Day): string {
  return t(`session.card.${how}`, { batch: id, day: dayName(card.measured, today), units: count(shownUnits(offBy(card))) })
}
