// Needs a look, of what is sold: stems taken out twice, more packed than ordered, deliveries of a buyer who was deleted.
// Each says what stands, by whom, and what settles it; what a tap settles can be taken back.

import type { ComponentChildren } from 'preact'
import { stillOver } from '../crop/billed'
import { addDays } from '../crop/day'
import { whereWent, shrinkOfLot } from '../crop/lot_trace'
import { parseLotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import { lineOf, packedFor } from '../crop/over_packed'
import type { SaleLook } from '../crop/sale_looks'
import type { InvoiceID, LineID, Shrink } from '../crop/sale_nouns'
import { withdrawnFact } from '../crop/facts'
import { ClaimDiffers } from '../cooler/ClaimDiffers'
import { count, dayName, t } from '../messages/messages'
import { buyerWritten, lineWords, lotWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { orderAsPacked, stemsAsPacked } from '../orders/as_packed'
import { BuyerGoneCard } from '../orders/BuyerGoneCard'
import { endStanding } from '../orders/order_deeds'
import { standingLines, standingText } from '../orders/standing_words'
import { PackedRow, whoAndWhen } from '../ui/PackedRow'
import { href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import type { Undoable, Undoing } from '../ui/use_undoable'
import type { Bench } from './bench'

export function saleLookKey(look: SaleLook): string {
  switch (look.kind) {
    case 'oversold': return look.lot
    case 'buyer_gone': return look.buyer.id
    case 'comes_twice': return `${look.kind} ${look.earlier.id}`
    case 'claim_gone': return look.claim
    case 'claim_differs': return `${look.kind} ${look.claim.id}`
    default: return `${look.kind} ${look.line}`
  }
}

interface SaleLookCardProps {
  readonly look: SaleLook
  readonly bench: Bench
  readonly doing: Undoable
}

export function SaleLookCard({ look, bench, doing }: SaleLookCardProps) {
  const farm = useNotebook().farm.value
  switch (look.kind) {
    case 'oversold': return <Oversold farm={farm} look={look} bench={bench} doing={doing} />
    case 'over_packed': return <OverPacked farm={farm} look={look} doing={doing} />
    case 'buyer_gone': return <BuyerGoneCard look={look} onDeed={(plan, said) => void doing.act(({ sales }) => ({ ...plan(sales), said }))} />
    case 'comes_twice': return <ComesTwice farm={farm} look={look} doing={doing} />
    case 'other_stems': return <OtherStems farm={farm} look={look} doing={doing} />
    case 'over_billed': return <OverBilled farm={farm} look={look} />
    case 'over_claimed': return <OverClaimed farm={farm} look={look} />
    case 'claim_gone': return <ClaimGone farm={farm} look={look} doing={doing} />
    case 'claim_differs': return <div class="card"><ClaimDiffers claim={look.claim} doing={doing} /></div>
  }
}

type Of<K extends SaleLook['kind']> = Extract<SaleLook, { kind: K }>

function Oversold({ farm, look, bench, doing }: { readonly farm: Farm; readonly look: Of<'oversold'>; readonly bench: Bench; readonly doing: Undoable }) {
  const may = useRights()
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
            <Way onWay={() => void doing.act(() => takenBack(one))}>{t('shrink.take_back')}</Way>
          </li>
        ))}
      </ul>
      {may.record && lot && lot.bed !== '' && <Way onWay={forgotten}>{t('sale_looks.oversold.bench')}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
    </div>
  )
}

function takenBack({ id, stems }: Shrink): Undoing {
  const fact = (on: boolean) => withdrawnFact('shrink', id, on, 'shed')
  return { facts: [fact(true)], undo: [fact(false)], said: t('sale_looks.shrink_back', { n: stems }) }
}

function OverPacked({ farm, look, doing }: { readonly farm: Farm; readonly look: Of<'over_packed'>; readonly doing: Undoable }) {
  const may = useRights()
  const packed = packedFor(farm.sales, look.line)
  const [first] = packed
  const buyer = first ? buyerWritten(farm, first.buyer) : t('buyer.unknown')
  const day = dayName(first?.due ?? '', today.value)
  const ordered = lineOf(farm.sales, look.line) !== undefined
  const asPacked = ({ sales }: Farm): Undoing | string => {
    const deed = orderAsPacked(sales, look.line)
    return deed ? { ...deed, said: t('sale_looks.ordered', { n: look.packed, buyer, day }) } : t('orders.unknown')
  }
  return (
    <div class="card">
      <p>{t(ordered ? 'sale_looks.over_packed' : 'sale_looks.not_ordered', { buyer, day, line: lineWords(farm, look.line), ordered: count(look.ordered), n: look.packed })}</p>
      <p><a href={href('shed', 'claims', look.line)}>{t('sale_looks.line')}</a></p>
      <ul class="rows">
        {packed.map((one) => <PackedRow key={one.id} farm={farm} packed={one} mayRight={may.record} />)}
      </ul>
      {may.manage && orderAsPacked(farm.sales, look.line) && <Way onWay={() => void doing.act(asPacked)}>{t(ordered ? 'sale_looks.over_packed.ordered' : 'sale_looks.not_ordered.order', { n: look.packed })}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
    </div>
  )
}

function OtherStems({ farm, look, doing }: { readonly farm: Farm; readonly look: Of<'other_stems'>; readonly doing: Undoable }) {
  const may = useRights()
  const was = look.stems / look.bunches
  const asPacked = ({ sales }: Farm): Undoing | string => {
    const deed = stemsAsPacked(sales, look.line)
    return deed ? { ...deed, said: t('sale_looks.other_stems.said', { n: was }) } : t('orders.unknown')
  }
  return (
    <div class="card">
      <p>{t('sale_looks.other_stems', { n: look.bunches, ...whose(farm, look.line), stems: count(look.stems), each: count(look.each) })}</p>
      <p><a href={href('shed', 'claims', look.line)}>{t('sale_looks.line')}</a></p>
      <ul class="rows">
        {packedFor(farm.sales, look.line).map((one) => <PackedRow key={one.id} farm={farm} packed={one} mayRight={may.record} />)}
      </ul>
      {may.manage && stemsAsPacked(farm.sales, look.line) && <Way onWay={() => void doing.act(asPacked)}>{t('sale_looks.other_stems.as_packed', { n: was })}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
    </div>
  )
}

function ComesTwice({ farm, look: { earlier, later }, doing }: { readonly farm: Farm; readonly look: Of<'comes_twice'>; readonly doing: Undoable }) {
  const may = useRights()
  const day = dayName(later.from, today.value)
  const end = ({ sales }: Farm): Undoing => ({
    ...endStanding(sales, sales.standings.get(earlier.id) ?? earlier, addDays(later.from, -1)), said: t('sale_looks.comes_twice.said', { day }),
  })
  return (
    <div class="card">
      <p>{t('sale_looks.comes_twice', { buyer: buyerWritten(farm, later.buyer), day })}</p>
      <ul class="rows">
        {[earlier, later].map((one) => (
          <li key={one.id} class="settle-row">
            <span>
              <a href={href('shed', 'orders', 'standing', one.id)}>{standingText(one, today.value)}</a>
              {standingLines(farm.sales, one.id).map((line) => <span key={line.id} class="small block">{lineText(farm, line)}</span>)}
            </span>
          </li>
        ))}
      </ul>
      {may.manage ? <Way onWay={() => void doing.act(end)}>{t('sale_looks.comes_twice.end', { day })}</Way> : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
    </div>
  )
}

function OverBilled({ farm, look }: { readonly farm: Farm; readonly look: Of<'over_billed'> }) {
  const number = farm.sales.invoices.get(look.invoice)?.number ?? ''
  return (
    <div class="card">
      <p>{t('sale_looks.over_billed', { n: stillOver(look), ...whose(farm, look.line, look.invoice), billed: count(look.billed), packed: count(look.packed) })}</p>
      {look.missing > 0 && <p>{t('papers.taken_back.missing', { n: look.missing })}</p>}
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

function ClaimGone({ farm, look: { claim, note }, doing }: { readonly farm: Farm; readonly look: Of<'claim_gone'>; readonly doing: Undoable }) {
  const may = useRights()
  const fact = (gone: boolean) => withdrawnFact('claim', claim, gone, 'shed')
  const back = (): Undoing => ({ facts: [fact(false)], undo: [fact(true)], said: t('sale_looks.claim_gone.is_back') })
  return (
    <div class="card">
      <p>{t('sale_looks.claim_gone', { number: note.number, buyer: buyerWritten(farm, note.buyer) })}</p>
      {may.manage && <Way onWay={() => void doing.act(back)}>{t('sale_looks.claim_gone.back')}</Way>}
    </div>
  )
}

/** Of whom and for which day a line is; nothing may be packed of it any more, but an invoice has both. */
function whose(farm: Farm, line: LineID, on?: InvoiceID) {
  const [first] = packedFor(farm.sales, line)
  const invoice = on === undefined ? undefined : farm.sales.invoices.get(on)
  const buyer = first?.buyer ?? invoice?.buyer
  const due = first?.due ?? invoice?.lines.find((row) => row.line === line)?.due ?? ''
  return { buyer: buyer ? buyerWritten(farm, buyer) : t('buyer.unknown'), day: dayName(due, today.value), line: lineWords(farm, line) }
}

function Way({ onWay, children }: { readonly onWay: () => void; readonly children: ComponentChildren }) {
  return <button type="button" class="btn" onClick={onWay}>{children}</button>
}
