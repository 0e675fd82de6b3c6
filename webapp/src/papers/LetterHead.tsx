// The head of a paper that goes to a buyer: who sells, to whom, and what it is.

import type { ComponentChildren } from 'preact'
import type { BuyerID } from '../crop/sale_nouns'
import { buyerOf } from '../crop/price_of'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { linesOfText } from './paper_words'
import { buyerNamed, sellerLines } from './papers_farm'

interface LetterHeadProps {
  readonly title: string
  readonly buyer: BuyerID
  readonly children: ComponentChildren
}

export function LetterHead({ title, buyer, children }: LetterHeadProps) {
  const farm = useNotebook().farm.value
  return (
    <header class="letter-head">
      <div class="letter-seller">{sellerLines(farm).map((line, i) => <div key={i}>{line}</div>)}</div>
      <h2>{title}</h2>
      <div class="letter-two">
        <address>
          <span class="letter-small">{t('papers.to')}</span>
          <b>{buyerNamed(farm, buyer)}</b>
          {linesOfText(buyerOf(farm.sales, buyer)?.address ?? '').map((line, i) => <div key={i}>{line}</div>)}
        </address>
        <dl>{children}</dl>
      </div>
    </header>
  )
}
