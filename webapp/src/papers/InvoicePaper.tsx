// An invoice or credit note as it was frozen: nothing of it follows later prices, nor what buyer and farm are called later.

import { totalsOf } from '../crop/invoice_total'
import type { Cents, Invoice } from '../crop/sale_nouns'
import { count, dateName, dayAndMonth, decimal, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { LetterHead } from './LetterHead'
import { headToday } from './papers_farm'

export function InvoicePaper({ invoice }: { readonly invoice: Invoice }) {
  const farm = useNotebook().farm.value
  const { sales } = farm
  const head = invoice.head ?? headToday(farm, invoice.buyer)
  const isCredit = invoice.credits !== ''
  const on = isCredit ? sales.invoices.get(invoice.credits as Invoice['id']) : undefined
  return (
    <article class="sheet letter">
      <LetterHead title={t(isCredit ? 'papers.credit.title' : 'papers.invoice.title')} head={head}>
        <dt>{t('papers.number')}</dt><dd>{invoice.number}</dd>
        <dt>{t('papers.date')}</dt><dd>{dateName(invoice.date)}</dd>
        {isCredit && <><dt>{t('papers.on_invoice')}</dt><dd>{on?.number ?? t('papers.invoice.unknown')}</dd></>}
        {!isCredit && invoice.payBy !== '' && <><dt>{t('papers.pay_by')}</dt><dd>{dateName(invoice.payBy)}</dd></>}
      </LetterHead>
      {invoice.void !== '' && <p class="paper-void">{t('papers.void.on', { day: dateName(invoice.void) })}</p>}
      <table>
        <thead>
          <tr>
            <th scope="col" class="wide">{t('papers.delivered')}</th><th scope="col">{t('papers.what')}</th><th scope="col" class="n">{t('papers.bunches.head')}</th>
            <th scope="col" class="n wide">{t('papers.price')}</th><th scope="col" class="n">{t('papers.amount')}</th>
          </tr>
        </thead>
        <tbody>{invoice.lines.map((line, i) => <Row key={i} line={line} currency={invoice.currency} />)}</tbody>
        <Sums invoice={invoice} taxName={head.taxName} />
      </table>
      <p class="letter-small">{t('papers.tax.how')}</p>
    </article>
  )
}

function Row({ line, currency }: { readonly line: Invoice['lines'][number]; readonly currency: string }) {
  const each = line.bunches > 0 && line.cents % line.bunches === 0 ? amount(Math.abs(line.cents / line.bunches) as Cents, currency) : ''
  const day = line.due === '' ? '' : dayAndMonth(line.due)
  const of = line.stems > 0 && line.bunches > 0 ? t('papers.bunches_of', { n: line.stems }) : ''
  return (
    <tr>
      <td class="wide">{day}</td>
      <td>
        {line.words}
        {of !== '' && <span class="letter-small block wide">{of}</span>}
        <span class="letter-small block narrow">{[day, of, each].filter((part) => part !== '').join(' · ')}</span>
      </td>
      <td class="n">{line.bunches > 0 ? count(line.bunches) : ''}</td>
      <td class="n wide">{each}</td>
      <td class="n">{amount(line.cents, currency)}</td>
    </tr>
  )
}

function Sums({ invoice, taxName }: { readonly invoice: Invoice; readonly taxName: string }) {
  const { net, tax, total } = totalsOf(invoice)
  const rate = decimal(invoice.taxRate / 100, invoice.taxRate % 100 === 0 ? 0 : 2)
  const rows: readonly (readonly [string, Cents])[] = invoice.taxRate === 0 ? [] : [
    [t('papers.net'), net], [t('papers.tax', { name: taxName || t('papers.tax.name'), rate }), tax],
  ]
  return (
    <tbody class="sums">
      {rows.map(([name, cents]) => <tr key={name}><td class="wide" colSpan={2} /><th scope="row" colSpan={2}>{name}</th><td class="n">{amount(cents, invoice.currency)}</td></tr>)}
      <tr class="sum"><td class="wide" colSpan={2} /><th scope="row" colSpan={2}>{t(invoice.credits === '' ? 'papers.total' : 'papers.total.credit')}</th><td class="n">{amount(total, invoice.currency)}</td></tr>
    </tbody>
  )
}
