// The invoices of a day's deliveries: which there are, which the shed can make, and all of them to be printed.

import { useState } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import type { BuyerID, Invoice, InvoiceID, LineID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Delivery } from './day_papers'
import { askInvoice } from './invoice_ask'
import { billedLines } from './invoice_total'
import { InvoicePaper } from './InvoicePaper'
import { Paper, PrintButton } from './Paper'
import { lineWords } from './paper_words'
import { buyerNamed } from './papers_farm'

/** What of a day a buyer has been billed for. */
interface DayBill {
  readonly buyer: BuyerID
  readonly deliveries: readonly Delivery[]
  readonly invoices: readonly InvoiceID[]
  /** Bunches that stand on no invoice. */
  readonly open: number
  readonly unpriced: readonly string[]
}

export function DayInvoices({ deliveries, day }: { readonly deliveries: readonly Delivery[]; readonly day: Day }) {
  const farm = useNotebook().farm.value
  const bills = billsOf(farm, deliveries)
  const made = [...new Set(bills.flatMap(({ invoices }) => invoices))].flatMap((id) => farm.sales.invoices.get(id) ?? [])
  return (
    <>
      <ul class="rows">{bills.map((bill) => <BillRow key={`${day} ${bill.buyer}`} bill={bill} />)}</ul>
      {made.length > 0 && <PrintButton />}
      {made.length > 0 && <Paper>{made.map((invoice) => <InvoicePaper key={invoice.id} invoice={invoice} />)}</Paper>}
    </>
  )
}

function billsOf(farm: Farm, deliveries: readonly Delivery[]): DayBill[] {
  const billed = billedLines(farm.sales)
  const buyers = [...new Set(deliveries.map(({ buyer }) => buyer))]
  return buyers.map((buyer) => {
    const its = deliveries.filter((one) => one.buyer === buyer && one.order !== '')
    const lines = its.flatMap((one) => one.lines)
    const open = lines.filter((line) => line.bunches > (billed.get(line.id)?.bunches ?? 0))
    return {
      buyer, deliveries: its, invoices: [...new Set(lines.flatMap((line) => billed.get(line.id)?.invoices ?? []))],
      open: open.reduce((sum, line) => sum + line.bunches - (billed.get(line.id)?.bunches ?? 0), 0),
      unpriced: open.flatMap(({ line }) => (line && line.price <= 0 ? [lineWords(farm, line)] : [])),
    }
  })
}

function BillRow({ bill }: { readonly bill: DayBill }) {
  const farm = useNotebook().farm.value
  const [busy, setBusy] = useState(false)
  const [said, setSaid] = useState<{ readonly problem: boolean; readonly text: string }>()
  const make = async () => {
    if (busy) return
    setBusy(true)
    const answer = await askInvoice({
      buyer: bill.buyer, orders: bill.deliveries.flatMap(({ order }) => (order === '' ? [] : [order])), date: today.value,
      words: wordsOf(farm, bill), fee: t('papers.fee'),
    })
    setBusy(false)
    const problem = 'problem' in answer
    const text = problem ? answer.problem : t('papers.made', { number: answer.number })
    setSaid({ problem, text })
    announce(text)
  }
  const there = bill.invoices.flatMap((id) => farm.sales.invoices.get(id) ?? [])
  return (
    <li class="bill">
      <b>{buyerNamed(farm, bill.buyer)}</b>
      {there.map((invoice) => <InvoiceLink key={invoice.id} invoice={invoice} />)}
      {bill.open > 0 && <p>{t('papers.open', { n: bill.open })}</p>}
      {bill.unpriced.length > 0 && <p class="note warn">{t('papers.unpriced', { lines: bill.unpriced.join('; ') })}</p>}
      {bill.open > 0 && (
        <button type="button" class="btn tall" aria-disabled={busy} onClick={() => void make()}>{t(busy ? 'papers.making' : 'papers.make')}</button>
      )}
      {said && (said.problem || there.length === 0) && <p class={said.problem ? 'note stop' : 'note'} role="alert">{said.text}</p>}
    </li>
  )
}

function InvoiceLink({ invoice }: { readonly invoice: Invoice }) {
  return <a class="btn" href={href('shed', 'papers', 'invoice', invoice.id)}>{t('papers.invoice.named', { number: invoice.number })}</a>
}

function wordsOf(farm: Farm, bill: DayBill): Record<LineID, string> {
  const words: Record<LineID, string> = {}
  for (const { lines } of bill.deliveries) for (const { line } of lines) if (line) words[line.id] = lineWords(farm, line)
  return words
}
