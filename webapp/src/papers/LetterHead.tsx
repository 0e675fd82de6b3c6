// The head of a paper that goes to a buyer: who sells, to whom, and what it is.

import type { ComponentChildren } from 'preact'
import type { InvoiceHead } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { linesOfText } from '../ui/seller'

interface LetterHeadProps {
  readonly title: string
  readonly head: InvoiceHead
  readonly children: ComponentChildren
}

export function LetterHead({ title, head, children }: LetterHeadProps) {
  return (
    <header class="letter-head">
      <div class="letter-seller">{linesOfText(head.seller).map((line, i) => <div key={i}>{line}</div>)}</div>
      <h2>{title}</h2>
      <div class="letter-two">
        <address>
          <span class="letter-small">{t('papers.to')}</span>
          <b>{head.buyerName || t('papers.buyer.unknown')}</b>
          {linesOfText(head.address).map((line, i) => <div key={i}>{line}</div>)}
        </address>
        <dl>{children}</dl>
      </div>
    </header>
  )
}
