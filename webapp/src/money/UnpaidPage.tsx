// Invoices of which something is owed, those that are overdue first; and those that were paid beyond.

import { openBills, type OpenBill } from '../crop/paid'
import { buyerOf } from '../crop/price_of'
import type { Cents } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { paidText } from '../ui/paid_words'

export function UnpaidPage() {
  const farm = useNotebook().farm.value
  const open = openBills(farm, today.value)
  const owing = open.filter(({ left }) => left > 0)
  return (
    <>
      <PageHead title={t('money.unpaid')} back={href('money')}><SyncChip /></PageHead>
      <div class="page reading money">
        {owing.length === 0 && <p class="say">{t('money.unpaid.none')}</p>}
        <Bills title={t('money.overdue')} bills={owing.filter(({ overdue }) => overdue)} />
        <Bills title={t('money.not_due')} bills={owing.filter(({ overdue }) => !overdue)} />
        <Bills title={t('money.over')} bills={open.filter(({ left }) => left < 0)} />
        <a class="btn" href={href('shed', 'papers', 'invoices')}>{t('money.all_invoices')}</a>
      </div>
    </>
  )
}

function Bills({ title, bills }: { readonly title: string; readonly bills: readonly OpenBill[] }) {
  if (bills.length === 0) return null
  return (
    <section>
      <h2 class="with-sum"><span>{title}</span><span class="num">{sums(bills).join(' · ')}</span></h2>
      <ul class="rows">{bills.map((bill) => <BillRow key={bill.invoice.id} bill={bill} />)}</ul>
    </section>
  )
}

function BillRow({ bill }: { readonly bill: OpenBill }) {
  const { sales } = useNotebook().farm.value
  const { invoice, left } = bill
  const by = invoice.payBy === '' ? '' : t('money.pay_by', { day: dayName(invoice.payBy, today.value) })
  return (
    <li>
      <a class="line plain" href={href('money', 'invoice', invoice.id)}>
        <span>
          <b>{buyerOf(sales, invoice.buyer)?.name || t('buyer.unknown')}</b>
          <span class="small block">{[invoice.number, by, paidText(bill)].filter((part) => part !== '').join(' · ')}</span>
        </span>
        <span class="num">{amount(left, invoice.currency)}</span>
      </a>
    </li>
  )
}

/** What is open, a sum a currency. */
function sums(bills: readonly OpenBill[]): string[] {
  const found = new Map<string, number>()
  for (const { invoice, left } of bills) found.set(invoice.currency, (found.get(invoice.currency) ?? 0) + left)
  return [...found].map(([currency, cents]) => amount(cents as Cents, currency))
}
