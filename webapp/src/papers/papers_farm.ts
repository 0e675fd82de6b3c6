// What papers need of the farm: names, also of buyers who were deleted, and the head of its letters.

import type { Farm } from '../crop/nouns'
import { buyerOf } from '../crop/price_of'
import type { BuyerID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { linesOfText } from './paper_words'

export function buyerNamed(farm: Farm, id: BuyerID): string {
  return buyerOf(farm.sales, id)?.name || t('papers.buyer.unknown')
}

/** Who sells: the lines that the farm tells for its papers, else its name. */
export function sellerLines(farm: Farm): string[] {
  const told = linesOfText(farm.sales.terms.seller)
  return told.length > 0 ? told : [farm.name].filter((name) => name !== '')
}
