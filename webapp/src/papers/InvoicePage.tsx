// One invoice or credit note: looked at, printed, called void, and what was credited of it.

import { useState } from 'preact/hooks'
import { billedLines, creditableOn, creditedOf, notesOn, type OverBilled, overBilledLine, stillOver } from '../crop/billed'
import { leftOf, totalsOf } from '../crop/invoice_total'
import { paidOf } from '../crop/paid'
import type { Cents, Claim, Invoice, InvoiceID, LineID } from '../crop/sale_nouns'
import { count, dayAndMonth, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { paidText } from '../ui/paid_words'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { type Answer, askCredit, askVoid } from './invoice_ask'
import { InvoicePaper } from './InvoicePaper'
import { Paper, PrintButton } from '../ui/Paper'

export function InvoicePage({ id }: { readonly id: string }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const invoice = may.manage ? farm.sales.invoices.get(id as InvoiceID) : undefined
  return (
    <div class="papers-page">
      <PageHead title={invoice?.number ?? t('papers.invoice.title')} back={href('shed', 'papers', 'invoices')} />
      <div class="page">
        {!invoice && <p class="note">{t(may.manage ? 'papers.invoice.gone' : 'papers.invoices.owners')}</p>}
        {invoice && <PrintButton />}
        {invoice && <OfInvoice invoice={invoice} />}
      </div>
      {invoice && <Paper><InvoicePaper invoice={invoice} /></Paper>}
    </div>
  )
}

function OfInvoice({ invoice }: { readonly invoice: Invoice }) {
  const farm = useNotebook().farm.value
  const notes = notesOn(farm.sales, invoice.id)
  return (
    <>
      {invoice.credits !== '' && <a class="btn" href={href('shed', 'papers', 'invoice', invoice.credits)}>{t('papers.on_invoice.see')}</a>}
      {notes.map((note) => <a key={note.id} class="btn note-link" href={href('shed', 'papers', 'invoice', note.id)}>{t('papers.credit.named', { number: note.number })} <span class="sum-of">{amount(totalsOf(note).total, note.currency)}</span></a>)}
      {notes.length > 0 && <p>{t('papers.left', { sum: amount(leftOf(invoice, notes), invoice.currency) })}</p>}
      {invoice.credits === '' && <a class="btn" href={href('money', 'invoice', invoice.id)}>{t('paid.see', { said: paidText(paidOf(farm, invoice, today.value)) })}</a>}
      {invoice.credits === '' && invoice.void === '' && <StillOpen invoice={invoice} />}
    </>
  )
}

/** What may be credited on an invoice that stands: what claims say beyond their notes, and what was taken back since. */
function StillOpen({ invoice }: { readonly invoice: Invoice }) {
  const { sales } = useNotebook().farm.value
  const lines = [...new Set(invoice.lines.flatMap(({ line }) => (line === '' ? [] : [line])))]
  const claims = lines.flatMap((line) => [...sales.claimsOf.get(line) ?? []].flatMap((id) => sales.claims.get(id) ?? []))
  const owed = claims.filter((claim) => claim.credit > creditedOf(sales, claim.id))
  const over = lines.flatMap((line) => (creditableOn(sales, invoice.id, line) > 0 ? overBilledLine(sales, line) ?? [] : []))
  return (
    <>
      {over.map((one) => <CreditTakenBack key={one.line} over={one} invoice={invoice} />)}
      {owed.map((claim) => <CreditClaim key={claim.id} claim={claim} invoice={invoice} />)}
      <Voiding invoice={invoice} />
    </>
  )
}

/** Asks the shed once at a time and keeps what it said. */
function useAsking(): { busy: boolean; said: { problem: boolean; text: string } | undefined; go: (ask: () => Promise<Answer>) => Promise<void> } {
  const [busy, setBusy] = useState(false)
  const [said, setSaid] = useState<{ problem: boolean; text: string }>()
  const go = async (ask: () => Promise<Answer>) => {
    if (busy) return
    setBusy(true)
    const answer = await ask()
    setBusy(false)
    const problem = 'problem' in answer
    const text = problem ? answer.problem : t('papers.credited', { number: answer.number })
    setSaid({ problem, text })
    announce(text)
  }
  return { busy, said, go }
}

function CreditTakenBack({ over, invoice }: { readonly over: OverBilled; readonly invoice: Invoice }) {
  const { busy, said, go } = useAsking()
  const { line, billed, packed, missing } = over
  const { sales } = useNotebook().farm.value
  const claimed = billedLines(sales).get(line)?.on.get(invoice.id)?.claimed ?? (0 as Cents)
  const what = invoice.lines.find((row) => row.line === line)?.words ?? ''
  const n = Math.min(stillOver(over), creditableOn(sales, invoice.id, line))
  const ask = () => askCredit({ line, invoice: invoice.id, date: today.value, words: t('papers.taken_back.words', { what }) })
  return (
    <div class="note warn">
      <p>{t('papers.taken_back', { what, n: billed, packed: count(packed) })} <LineLink line={line} /></p>
      {missing > 0 && <p>{t('papers.taken_back.missing', { n: missing })}</p>}
      {missing === 0 && claimed > 0 && <p>{t('papers.taken_back.claimed', { amount: amount(claimed, invoice.currency) })}</p>}
      <button type="button" class="btn" aria-disabled={busy} onClick={() => void go(ask)}>{t('papers.taken_back.make', { n })}</button>
      {said && <p class={said.problem ? 'note stop' : 'note'} role="alert">{said.text}</p>}
    </div>
  )
}

function CreditClaim({ claim, invoice }: { readonly claim: Claim; readonly invoice: Invoice }) {
  const { busy, said, go } = useAsking()
  const credited = creditedOf(useNotebook().farm.value.sales, claim.id)
  const of = { day: dayAndMonth(claim.due), n: claim.stems }
  const words = credited > 0 ? t('papers.credit.rest_words', of) : t('papers.credit.words', of)
  const money = (cents: number) => amount(cents as Cents, invoice.currency)
  const ask = () => askCredit({ claim: claim.id, invoice: invoice.id, date: today.value, words })
  return (
    <div class="card">
      <p>{t('papers.claim', { n: claim.stems, day: dayAndMonth(claim.date), credit: money(claim.credit) })} <LineLink line={claim.line} /></p>
      {credited > 0 && <p>{t('papers.claim.rest', { credited: money(credited), rest: money(claim.credit - credited) })}</p>}
      <button type="button" class="btn" aria-disabled={busy} onClick={() => void go(ask)}>{t('papers.credit.make')}</button>
      {said && <p class={said.problem ? 'note stop' : 'note'} role="alert">{said.text}</p>}
    </div>
  )
}

function LineLink({ line }: { readonly line: LineID }) {
  return <a href={href('shed', 'claims', line)}>{t('sale_looks.line')}</a>
}

function Voiding({ invoice }: { readonly invoice: Invoice }) {
  const [sure, setSure] = useState(false)
  const { busy, said, go } = useAsking()
  if (!sure) return <button type="button" class="btn" onClick={() => setSure(true)}>{t('papers.void.make')}</button>
  return (
    <div class="note warn">
      <p>{t('papers.void.sure', { number: invoice.number })}</p>
      {said && <p class="note stop" role="alert">{said.text}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={() => setSure(false)}>{t('cancel')}</button>
        <button type="button" class="btn" aria-disabled={busy} onClick={() => void go(() => askVoid(invoice.id, today.value))}>{t('papers.void.yes')}</button>
      </div>
    </div>
  )
}
