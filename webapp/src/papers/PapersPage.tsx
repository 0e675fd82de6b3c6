// The papers of a day: chosen, looked at as they will be printed, and printed.

import { signal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { addDays, parseDay } from '../crop/day'
import type { Day } from '../crop/nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href, route } from '../ui/route'
import { today } from '../ui/today'
import { billsOf, invoicesIn } from './day_bills'
import { DayInvoices } from './DayInvoices'
import { type Delivery, deliveriesOf } from './day_papers'
import { InvoicePaper } from './InvoicePaper'
import { NotesPaper } from './NotesPaper'
import { Paper, PrintButton } from '../ui/Paper'
import { inRound, readRoundOrder, roundOrder } from './round_order'
import { RoundPaper } from './RoundPaper'
import { SlipsPaper } from './SlipsPaper'

const kinds = ['slips', 'round', 'notes', 'invoices'] as const
type Kind = (typeof kinds)[number]

/** What was chosen last, so that a look at another page loses nothing. */
const chosen = signal<Kind>('slips')

export function PapersPage() {
  const notebook = useNotebook()
  useEffect(() => readRoundOrder(notebook), [notebook])
  const farm = notebook.farm.value
  const may = useRights()
  const day = parseDay(route.value[2] ?? '') ?? today.value
  const deliveries = deliveriesOf(farm, day)
  const packed = deliveries.filter(({ bunches }) => bunches > 0)
  const offered = kinds.filter((kind) => kind !== 'invoices' || may.manage)
  const kind = offered.includes(chosen.value) ? chosen.value : 'slips'
  const bills = kind === 'invoices' ? billsOf(farm, packed) : []
  const made = invoicesIn(farm, bills)
  const prints = kind === 'invoices' ? made.length > 0 : packed.length > 0
  return (
    <div class="papers-page">
      <PageHead title={t('papers.title')} back={href('shed')} />
      <div class="page">
        <DayChoice day={day} />
        <Choice name={t('papers.kind')} value={kind} onChoose={(one) => { chosen.value = one }} options={offered.map((one) => [one, t(`papers.kind.${one}`)] as const)} />
        <Missing deliveries={deliveries} />
        {kind === 'invoices' && <DayInvoices bills={bills} />}
        {prints && <PrintButton />}
        {kind === 'round' && packed.length > 1 && <p class="small">{t('papers.round.order')}</p>}
        <a class="btn" href={href('shed', 'packing', day, 'pick')}><Icon name="list" />{t('packing.pick')}</a>
        {may.manage && <a class="btn" href={href('shed', 'papers', 'invoices')}><Icon name="list" />{t('papers.invoices')}</a>}
      </div>
      {prints && (
        <Paper>
          {kind === 'invoices' ? made.map((invoice) => <InvoicePaper key={invoice.id} invoice={invoice} />) : <OfKind kind={kind} packed={packed} day={day} />}
        </Paper>
      )}
    </div>
  )
}

function DayChoice({ day }: { readonly day: Day }) {
  const to = (other: string) => { if (parseDay(other)) go('shed', 'papers', other) }
  return (
    <div class="papers-day">
      <button type="button" class="btn" aria-label={t('papers.day.before')} onClick={() => to(addDays(day, -1))}><Icon name="back" /></button>
      <label class="field">
        <span>{t('papers.day')}</span>
        <input type="date" value={day} onChange={(event) => to(event.currentTarget.value)} />
      </label>
      <button type="button" class="btn" aria-label={t('papers.day.after')} onClick={() => to(addDays(day, 1))}><Icon name="on" /></button>
    </div>
  )
}

/** What the papers of the day do not have, so that nobody takes them for whole. */
function Missing({ deliveries }: { readonly deliveries: readonly Delivery[] }) {
  const farm = useNotebook().farm.value
  const name = (one: Delivery) => (farm.sales.buyers.get(one.buyer) ?? farm.sales.goneBuyers.get(one.buyer))?.name ?? t('papers.buyer.unknown')
  if (deliveries.length === 0) return <p class="note">{t('papers.none')}</p>
  const without = deliveries.filter(({ bunches }) => bunches === 0)
  const beside = deliveries.filter(({ order, bunches }) => order === '' && bunches > 0)
  return (
    <>
      {without.length > 0 && <p class="note">{t('papers.not_packed', { buyers: without.map(name).join(', ') })}</p>}
      {beside.length > 0 && <p class="note warn">{t('papers.beside', { buyers: beside.map(name).join(', ') })}</p>}
    </>
  )
}

function OfKind({ kind, packed, day }: { readonly kind: Exclude<Kind, 'invoices'>; readonly packed: readonly Delivery[]; readonly day: Day }) {
  switch (kind) {
    case 'slips': return <SlipsPaper deliveries={packed} />
    case 'round': return <RoundPaper deliveries={inRound(packed, roundOrder.value)} day={day} />
    case 'notes': return <NotesPaper deliveries={inRound(packed, roundOrder.value)} />
  }
}
