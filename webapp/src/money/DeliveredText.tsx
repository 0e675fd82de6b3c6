// What was delivered, in words: for whom, when, what, and what it goes for.

import type { Delivered } from '../crop/delivered'
import type { Farm } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { buyerWritten, lineWords } from '../ui/lot_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'

export function DeliveredText({ delivered }: { readonly delivered: Delivered }) {
  const farm = useNotebook().farm.value
  return (
    <p>
      <span class="sentence">{deliveredWords(farm, delivered)}</span>
      <span class="small block">{lineWords(farm, delivered.line)}</span>
    </p>
  )
}

/** "Tue 2 June, Market stall: 12 bunches, €62.40" */
export function deliveredWords(farm: Farm, { due, buyer, bunches, gross, credited }: Delivered): string {
  const { currency } = farm.sales.terms
  const sum = gross === undefined ? t('money.no_price') : amount(gross, currency)
  const said = t('money.delivered', { day: dayName(due, today.value), buyer: buyerWritten(farm, buyer), n: bunches, sum })
  return credited > 0 ? t('money.delivered.credited', { said, sum: amount(credited, currency) }) : said
}
