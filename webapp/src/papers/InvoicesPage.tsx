// Invoices and credit notes by buyer and month, the newest month first: for owners.

import { signal } from '@preact/signals'
import { totalsOf } from '../crop/invoice_total'
import type { BuyerID, Cents, Invoice, Sales } from '../crop/sale_nouns'
import { dayAndMonth, locale, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { type InvoicesAsked, invoicesIn, months, monthsShown } from './invoice_list'
import { buyerNamed } from './papers_farm'

const nothingAsked: InvoicesAsked = { buyer: '', from: '', earlier: 0 }

/** What was asked for last, so that a look at one invoice loses nothing. */
const asked = signal(nothingAsked)

export function InvoicesPage() {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  return (
    <>
      <PageHead title={t('papers.invoices')} back={href('shed', 'papers')} />
      <div class="page">
        {!may.manage && <p class="note">{t('papers.invoices.owners')}</p>}
        {may.manage && sales.invoices.size === 0 && <p class="note">{t('papers.invoices.none')}</p>}
        {may.manage && sales.invoices.size > 0 && <Months sales={sales} />}
      </div>
    </>
  )
}

/** Some months of them: those of a year are thousands of rows. */
function Months({ sales }: { readonly sales: Sales }) {
  const buyers = new Set([...sales.invoices.values()].map((invoice) => invoice.buyer))
  // A buyer whose last invoice was withdrawn meanwhile is not among those to choose from.
  const { buyer, from, earlier } = asked.value.buyer === '' || buyers.has(asked.value.buyer) ? asked.value : nothingAsked
  const all = months(sales, buyer)
  const shown = monthsShown(all, { buyer, from, earlier })
  const found = invoicesIn(sales, buyer, shown)
  const before = all[all.indexOf(shown.at(-1) ?? '') + 1]
  return (
    <>
      <Filters buyers={buyers} buyer={buyer} all={all} month={shown[0] ?? ''} />
      {found.length > 1 && <Together text="papers.shown.sum" list={found.flatMap(([, list]) => list)} />}
      {found.map(([month, list]) => <Month key={month} month={month} list={list} />)}
      {before !== undefined && (
        <button type="button" class="btn tall" onClick={() => { asked.value = { buyer, from, earlier: earlier + 1 } }}>{t('papers.earlier', { month: monthName(before) })}</button>
      )}
    </>
  )
}

interface FiltersProps {
  readonly buyers: ReadonlySet<BuyerID>
  readonly buyer: BuyerID | ''
  readonly all: readonly string[]
  readonly month: string
}

function Filters({ buyers, buyer, all, month }: FiltersProps) {
  const farm = useNotebook().farm.value
  const named = [...buyers].map((id) => [id, buyerNamed(farm, id)] as const).sort((a, b) => a[1].localeCompare(b[1]))
  return (
    <div class="papers-filter of-names">
      <label class="field">
        <span>{t('papers.buyer')}</span>
        <select value={buyer} onChange={(event) => { asked.value = { ...asked.value, buyer: event.currentTarget.value as BuyerID | '', earlier: 0 } }}>
          <option value="">{t('papers.all')}</option>
          {named.map(([id, name]) => <option key={id} value={id}>{name}</option>)}
        </select>
      </label>
      <label class="field">
        <span>{t('papers.month')}</span>
        <select value={month} onChange={(event) => { asked.value = { buyer, from: event.currentTarget.value, earlier: 0 } }}>
          {all.map((one) => <option key={one} value={one}>{monthName(one)}</option>)}
        </select>
      </label>
    </div>
  )
}

function Month({ month, list }: { readonly month: string; readonly list: readonly Invoice[] }) {
  return (
    <section>
      <h2>{monthName(month)}</h2>
      <Together text="papers.month.sum" list={list} />
      <ul class="rows">{list.map((invoice) => <InvoiceRow key={invoice.id} invoice={invoice} />)}</ul>
    </section>
  )
}

/** What a list comes to, a line a currency. */
function Together({ text, list }: { readonly text: 'papers.month.sum' | 'papers.shown.sum'; readonly list: readonly Invoice[] }) {
  return currenciesOf(list).map((currency) => {
    const of = list.filter((one) => one.currency === currency)
    return <p key={currency}>{t(text, { n: of.length, sum: amount(sumOf(of), currency) })}</p>
  })
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

function sumOf(list: readonly Invoice[]): Cents {
  return list.reduce((sum, one) => sum + totalsOf(one).total, 0) as Cents
}

function monthName(month: string): string {
  return new Intl.DateTimeFormat(locale.value, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(new Date(`${month}-01`))
}
