// The invoices of a day's deliveries: which there are, and which the shed can make.

import { useState } from 'preact/hooks'
import type { Discount } from '../crop/discount'
import type { Farm } from '../crop/nouns'
import type { Invoice, LineID } from '../crop/sale_nouns'
import { decimal, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { DayBill } from './day_bills'
import { type DiscountTyped, readDiscount } from './discount_typed'
import { DiscountFields } from './DiscountFields'
import { askInvoice } from './invoice_ask'
import { lineWords } from './paper_words'
import { buyerNamed } from './papers_farm'

export function DayInvoices({ bills }: { readonly bills: readonly DayBill[] }) {
  return <ul class="rows">{bills.map((bill) => <BillRow key={`${bill.deliveries[0]?.day} ${bill.buyer}`} bill={bill} />)}</ul>
}

function BillRow({ bill }: { readonly bill: DayBill }) {
  const farm = useNotebook().farm.value
  const [busy, setBusy] = useState(false)
  const [said, setSaid] = useState<{ readonly problem: boolean; readonly text: string }>()
  const [typed, setTyped] = useState<DiscountTyped>()
  const discount = typed && readDiscount(typed, bill.goods)
  const make = async () => {
    if (busy || typed && !discount) return
    setBusy(true)
    const answer = await askInvoice({
      buyer: bill.buyer, orders: bill.deliveries.flatMap(({ order }) => (order === '' ? [] : [order])), date: today.value,
      words: wordsOf(farm, bill), fee: t('papers.fee'), discount: discount ? { ...discount, words: discountWords(discount) } : null,
    })
    setBusy(false)
    const problem = 'problem' in answer
    if (!problem) setTyped(undefined)
    const text = problem ? answer.problem : t('papers.made', { number: answer.number })
    setSaid({ problem, text })
    announce(text)
  }
  const there = bill.invoices.flatMap((id) => farm.sales.invoices.get(id) ?? [])
  return (
    <li class="bill">
      <b>{buyerNamed(farm, bill.buyer)}</b>
      {there.map((invoice) => <InvoiceLink key={invoice.id} invoice={invoice} />)}
      {bill.over > 0 && <p class="note warn">{t('papers.over', { n: bill.over })}</p>}
      {bill.open > 0 && <p>{t('papers.open', { n: bill.open })}</p>}
      {bill.unpriced.length > 0 && <p class="note warn">{t('papers.unpriced', { lines: bill.unpriced.join('; ') })}</p>}
      {bill.open > 0 && bill.goods > 0 && <DiscountFields typed={typed} goods={bill.goods} onType={setTyped} />}
      {bill.open > 0 && (
        <button type="button" class="btn tall" aria-disabled={busy || typed !== undefined && !discount} onClick={() => void make()}>{t(busy ? 'papers.making' : 'papers.make')}</button>
      )}
      {said && (said.problem || there.length === 0) && <p class={said.problem ? 'note stop' : 'note'} role="alert">{said.text}</p>}
    </li>
  )
}

function discountWords({ rate }: Discount): string {
  return rate === 0 ? t('papers.discount.words') : t('papers.discount.words.percent', { percent: decimal(rate / 100, rate % 100 === 0 ? 0 : 2) })
}

function InvoiceLink({ invoice }: { readonly invoice: Invoice }) {
  return <a class="btn" href={href('shed', 'papers', 'invoice', invoice.id)}>{t('papers.invoice.named', { number: invoice.number })}</a>
}

function wordsOf(farm: Farm, bill: DayBill): Record<LineID, string> {
  const words: Record<LineID, string> = {}
  for (const { lines } of bill.deliveries) for (const { line } of lines) if (line) words[line.id] = lineWords(farm, line)
  return words
}
