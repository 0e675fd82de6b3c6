// All invoices and credit notes, by buyer and month: for owners.

import { signal } from '@preact/signals'
import type { BuyerID, Cents, Invoice } from '../crop/sale_nouns'
import { dayAndMonth, locale, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { totalsOf } from './invoice_total'
import { byMonth, invoicesOf, months } from './invoice_list'
import { buyerNamed } from './papers_farm'

const chosen = signal<{ readonly buyer: BuyerID | ''; readonly month: string }>({ buyer: '', month: '' })

export function InvoicesPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { buyer, month } = chosen.value
  const found = invoicesOf(farm.sales, buyer, month)
  return (
    <>
      <PageHead title={t('papers.invoices')} back={href('shed', 'papers')} />
      <div class="page">
        {!may.manage && <p class="note">{t('papers.invoices.owners')}</p>}
        {may.manage && farm.sales.invoices.size === 0 && <p class="note">{t('papers.invoices.none')}</p>}
        {may.manage && farm.sales.invoices.size > 0 && (
          <>
            <Filters />
            {found.length === 0 && <p class="note">{t('papers.invoices.none_so')}</p>}
            {byMonth(found).map(([one, list]) => <Month key={one} month={one} list={list} />)}
          </>
        )}
      </div>
    </>
  )
}

function Filters() {
  const farm = useNotebook().farm.value
  const { buyer, month } = chosen.value
  const buyers = [...new Set([...farm.sales.invoices.values()].map((invoice) => invoice.buyer))]
    .map((id) => [id, buyerNamed(farm, id)] as const).sort((a, b) => a[1].localeCompare(b[1]))
  return (
    <div class="papers-filter">
      <label class="field">
        <span>{t('papers.buyer')}</span>
        <select value={buyer} onChange={(event) => { chosen.value = { ...chosen.value, buyer: event.currentTarget.value as BuyerID | '' } }}>
          <option value="">{t('papers.all')}</option>
          {buyers.map(([id, name]) => <option key={id} value={id}>{name}</option>)}
        </select>
      </label>
      <label class="field">
        <span>{t('papers.month')}</span>
        <select value={month} onChange={(event) => { chosen.value = { ...chosen.value, month: event.currentTarget.value } }}>
          <option value="">{t('papers.all')}</option>
          {months(farm.sales).map((one) => <option key={one} value={one}>{monthName(one)}</option>)}
        </select>
      </label>
    </div>
  )
}

function Month({ month, list }: { readonly month: string; readonly list: readonly Invoice[] }) {
  return (
    <section>
      <h2>{monthName(month)}</h2>
      <ul class="rows">{list.map((invoice) => <InvoiceRow key={invoice.id} invoice={invoice} />)}</ul>
      {currenciesOf(list).map((currency) => (
        <p key={currency} class="num">{t('papers.month.sum', { sum: amount(sumOf(list, currency), currency) })}</p>
      ))}
    </section>
  )
}

function InvoiceRow({ invoice }: { readonly invoice: Invoice }) {
  const farm = useNotebook().farm.value
  const kind = invoice.credits !== '' ? t('papers.credit.title') : invoice.void !== '' ? t('papers.void') : ''
  return (
    <li>
      <a class="line plain" href={href('shed', 'papers', 'invoice', invoice.id)}>
        <span><b>{buyerNamed(farm, invoice.buyer)}</b><span class="small block">{[invoice.number, dayAndMonth(invoice.date), kind].filter((part) => part !== '').join(' · ')}</span></span>
        <span class="num">{amount(totalsOf(invoice).total, invoice.currency)}</span>
      </a>
    </li>
  )
}

function currenciesOf(list: readonly Invoice[]): string[] {
  return [...new Set(list.map(({ currency }) => currency))]
}

function sumOf(list: readonly Invoice[], currency: string): Cents {
  return list.filter((one) => one.currency === currency).reduce((sum, one) => sum + totalsOf(one).total, 0) as Cents
}

function monthName(month: string): string {
  return new Intl.DateTimeFormat(locale.value, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(new Date(`${month}-01`))
}
