// Needs a look, of what is sold: stems taken out twice, more packed than ordered, deliveries of a buyer who was deleted.
// Each says what stands, by whom, and what settles it; what a tap settles can be taken back.

import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { whereWent, shrinkOfLot } from '../crop/lot_trace'
import { parseLotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import { lineOf, packedFor } from '../crop/over_packed'
import type { SaleLook } from '../crop/sale_looks'
import type { Packed, Shrink } from '../crop/sale_nouns'
import { withdrawnFact } from '../crop/facts'
import { count, dayName, t } from '../messages/messages'
import { buyerWritten, lineWords, lotWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { orderAsPacked } from '../orders/as_packed'
import { BuyerGoneCard } from '../orders/BuyerGoneCard'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable, Undoing } from '../ui/use_undoable'
import type { Bench } from './bench'
import { PackedRight } from './PackedRight'

export function saleLookKey(look: SaleLook): string {
  return look.kind === 'oversold' ? look.lot : look.kind === 'over_packed' ? look.line : look.buyer.id
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
        {packed.map((one) => <PackedRow key={one.id} farm={farm} packed={one} stems={undefined} mayRight={may.record} />)}
      </ul>
      {may.manage && orderAsPacked(farm.sales, look.line) && <Way onWay={() => void doing.act(asPacked)}>{t(ordered ? 'sale_looks.over_packed.ordered' : 'sale_looks.not_ordered.order', { n: look.packed })}</Way>}
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
    </div>
  )
}

interface PackedRowProps {
  readonly farm: Farm
  readonly packed: Packed
  /** Of one lot; all of what was packed where undefined. */
  readonly stems: number | undefined
  readonly mayRight: boolean
}

function PackedRow({ farm, packed, stems, mayRight }: PackedRowProps) {
  const [open, setOpen] = useState(false)
  if (open) return <li><PackedRight packed={packed} onDone={() => setOpen(false)} /></li>
  return (
    <li class="settle-row">
      <span>
        <b>{buyerWritten(farm, packed.buyer)}</b> {stems === undefined ? t('claim.packed', { n: packed.bunches }) : t('stems', { n: stems })}
        <span class="small block">{t('lot.to.due', { day: dayName(packed.due, today.value) })} · {whoAndWhen(farm, packed.person, packed.date)}</span>
      </span>
      {mayRight && <Way onWay={() => setOpen(true)}>{t('packed_right')}</Way>}
    </li>
  )
}

function whoAndWhen(farm: Farm, person: Packed['person'], date: Packed['date']): string {
  const name = (person !== '' && farm.people.get(person)?.name) || t('visit.somebody')
  return t('sale_looks.by', { name, day: dayName(date, today.value) })
}

function Way({ onWay, children }: { readonly onWay: () => void; readonly children: ComponentChildren }) {
  return <button type="button" class="btn" onClick={onWay}>{children}</button>
}
