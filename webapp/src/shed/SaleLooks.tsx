// Needs a look, of what is sold: stems taken out twice, more packed than ordered, deliveries of a buyer who was deleted.
// Each says what stands, by whom, and what settles it.

import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { whereWent, shrinkOfLot } from '../crop/lot_trace'
import { parseLotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import { packedFor } from '../crop/over_packed'
import { bringBuyerBack, dropDeliveries, orderAsPacked } from '../crop/settle_sale'
import type { SaleLook } from '../crop/sale_looks'
import type { InvoiceID, LineID } from '../crop/sale_nouns'
import { withdrawnFact } from '../crop/facts'
import type { Fact } from '../log/change'
import { count, dayName, t } from '../messages/messages'
import { buyerWritten, lineWritten, lotWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { PackedRow, whoAndWhen } from '../ui/PackedRow'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import type { Bench } from './bench'

export function saleLookKey(look: SaleLook): string {
  switch (look.kind) {
    case 'oversold': return look.lot
    case 'buyer_gone': return look.buyer
    case 'claim_gone': return look.claim
    default: return `${look.kind} ${look.line}`
  }
}

interface SaleLookCardProps {
  readonly look: SaleLook
  readonly bench: Bench
}

export function SaleLookCard({ look, bench }: SaleLookCardProps) {
  const farm = useNotebook().farm.value
  switch (look.kind) {
    case 'oversold': return <Oversold farm={farm} look={look} bench={bench} />
    case 'over_packed': return <OverPacked farm={farm} look={look} />
    case 'buyer_gone': return <BuyerGone farm={farm} look={look} />
    case 'over_billed': return <OverBilled farm={farm} look={look} />
    case 'over_claimed': return <OverClaimed farm={farm} look={look} />
    case 'claim_gone': return <ClaimGone farm={farm} look={look} />
  }
}

type Of<K extends SaleLook['kind']> = Extract<SaleLook, { kind: K }>

function Oversold({ farm, look, bench }: { readonly farm: Farm; readonly look: Of<'oversold'>; readonly bench: Bench }) {
  const may = useRights()
  const { problem, settle } = useSettling()
  const lot = parseLotCell(look.lot)
  const forgotten = () => {
    if (!lot || lot.bed === '') return
    bench.goTo(lot.bed, lot.cut, lot.colour)
    document.querySelector('.bench')?.scrollIntoView({ behavior: 'smooth' })
  }
  return (
    <div class="card">
      <p>{t('sale_looks.oversold', { lot: lotWritten(farm, look.lot), n: look.packed + look.shrink - look.came, came: count(look.came), packed: count(look.packed), shrink: count(look.shrink) })}</p>
      <p><a href={href('shed', 'lot', look.lot)}>{t('lot.trace')}</a></p>
      <ul class="rows">
        {whereWent(farm, look.lot).map(({ packed, stems }) => <PackedRow key={packed.id} farm={farm} packed={packed} stems={stems} mayRight={may.record} />)}
        {may.record && shrinkOfLot(farm, look.lot).map((one) => (
          <li key={one.id} class="settle-row">
            <span>{t('shrink.line', { n: count(one.stems), reason: t(`shrink.${one.reason}`) })}<span class="small block">{whoAndWhen(farm, one.person, one.date)}</span></span>
            <Way onWay={() => settle([withdrawnFact('shrink', one.id, true, 'shed')])}>{t('shrink.take_back')}</Way>
          </li>
        ))}
      </ul>
      {may.record && lot && lot.bed !== '' && <Way onWay={forgotten}>{t('sale_looks.oversold.bench')}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

function OverPacked({ farm, look }: { readonly farm: Farm; readonly look: Of<'over_packed'> }) {
  const may = useRights()
  const { problem, settle } = useSettling()
  const packed = packedFor(farm.sales, look.line)
  const [first] = packed
  const buyer = first ? buyerWritten(farm, first.buyer) : t('buyer.unknown')
  const asPacked = orderAsPacked(farm.sales, look.line)
  return (
    <div class="card">
      <p>{t('sale_looks.over_packed', { buyer, day: dayName(first?.due ?? '', today.value), line: lineWritten(farm, look.line), ordered: count(look.ordered), n: look.packed })}</p>
      <p><a href={href('shed', 'claims', look.line)}>{t('sale_looks.line')}</a></p>
      <ul class="rows">
        {packed.map((one) => <PackedRow key={one.id} farm={farm} packed={one} mayRight={may.record} />)}
      </ul>
      {may.manage && asPacked && <Way onWay={() => settle(asPacked)}>{t('sale_looks.over_packed.ordered', { n: look.packed })}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

function BuyerGone({ farm, look }: { readonly farm: Farm; readonly look: Of<'buyer_gone'> }) {
  const may = useRights()
  const { problem, settle } = useSettling()
  const n = look.orders.length + look.standings.length
  return (
    <div class="card">
      <p>{t('sale_looks.buyer_gone', { n, buyer: farm.sales.goneBuyers.get(look.buyer)?.name ?? '', day: dayName(look.next, today.value) })}</p>
      {may.manage ? (
        <div class="buttons">
          <Way onWay={() => settle(bringBuyerBack(look.buyer))}>{t('sale_looks.buyer_gone.back')}</Way>
          <Way onWay={() => settle(dropDeliveries(farm.sales, look, today.peek()))}>{t('sale_looks.buyer_gone.drop', { n })}</Way>
        </div>
      ) : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

function OverBilled({ farm, look }: { readonly farm: Farm; readonly look: Of<'over_billed'> }) {
  const number = farm.sales.invoices.get(look.invoice)?.number ?? ''
  return (
    <div class="card">
      <p>{t('sale_looks.over_billed', { n: look.billed - look.packed, ...whose(farm, look.line, look.invoice), billed: count(look.billed), packed: count(look.packed) })}</p>
      <div class="buttons">
        <a class="btn" href={href('shed', 'papers', 'invoice', look.invoice)}>{t('sale_looks.over_billed.credit', { number })}</a>
        <a class="btn" href={href('shed', 'claims', look.line)}>{t('sale_looks.line')}</a>
      </div>
    </div>
  )
}

function OverClaimed({ farm, look }: { readonly farm: Farm; readonly look: Of<'over_claimed'> }) {
  const may = useRights()
  return (
    <div class="card">
      <p>{t('sale_looks.over_claimed', { n: look.claimed, ...whose(farm, look.line), packed: count(look.packed) })}</p>
      {may.manage ? <a class="btn" href={href('shed', 'claims', look.line)}>{t('sale_looks.line')}</a> : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
    </div>
  )
}

function ClaimGone({ farm, look: { claim, note } }: { readonly farm: Farm; readonly look: Of<'claim_gone'> }) {
  const may = useRights()
  const { problem, settle } = useSettling()
  return (
    <div class="card">
      <p>{t('sale_looks.claim_gone', { number: note.number, buyer: buyerWritten(farm, note.buyer) })}</p>
      {may.manage && <Way onWay={() => settle([withdrawnFact('claim', claim, false, 'shed')])}>{t('sale_looks.claim_gone.back')}</Way>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

/** Of whom and for which day a line is; nothing may be packed of it any more, but an invoice has both. */
function whose(farm: Farm, line: LineID, on?: InvoiceID) {
  const [first] = packedFor(farm.sales, line)
  const invoice = on === undefined ? undefined : farm.sales.invoices.get(on)
  const buyer = first?.buyer ?? invoice?.buyer
  const due = first?.due ?? invoice?.lines.find((row) => row.line === line)?.due ?? ''
  return { buyer: buyer ? buyerWritten(farm, buyer) : t('buyer.unknown'), day: dayName(due, today.value), line: lineWritten(farm, line) }
}

function useSettling() {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const settle = (facts: readonly Fact[]) => {
    notebook.record(facts).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  return { problem, settle }
}

function Way({ onWay, children }: { readonly onWay: () => void; readonly children: ComponentChildren }) {
  return <button type="button" class="btn" onClick={onWay}>{children}</button>
}
