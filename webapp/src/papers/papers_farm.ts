// What papers need of the farm: names, also of buyers who were deleted, and the head of its letters.

import type { Farm } from '../crop/nouns'
import { buyerOf } from '../crop/price_of'
import type { BuyerID, InvoiceHead } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { sellerLines } from '../ui/seller'

export function buyerNamed(farm: Farm, id: BuyerID): string {
  return buyerOf(farm.sales, id)?.name || t('papers.buyer.unknown')
}

/** What a paper says now of who sells, to whom, and how the tax is called. */
export function headToday(farm: Farm, buyer: BuyerID): InvoiceHead {
  return { buyerName: buyerNamed(farm, buyer), address: buyerOf(farm.sales, buyer)?.address ?? '', seller: sellerLines(farm).join('\n'), taxName: farm.sales.terms.taxName }
}
