// One delivery: what it holds in words, what it comes to, and what can be done with it.

import { Fragment } from 'preact'
import { useState } from 'preact/hooks'
import type { Deed } from '../crop/deed'
import { dueOf, type Due } from '../crop/due'
import { packedLinesOf } from '../crop/once_ordered'
import { bunchesPacked } from '../crop/over_packed'
import { paymentsFor } from '../crop/paid'
import { packedFrom } from '../crop/standing_packed'
import { buyerOf, channelOf, linePrice } from '../crop/price_of'
import type { Cents, OrderID, Sales } from '../crop/sale_nouns'
import { count, dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { amount } from '../ui/money'
import { type Rights, useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { Swatches } from './ColourPick'
import { doPlanned } from './deeds'
import { cancelDelivery, mayGoBack, standingBehind, withdrawOrder } from './order_deeds'
import { percentTyped } from './numbers'
import { totalOf } from './totals'
import { lineWarningText, orderWarningText } from './warning_words'
import { lineWarnings, orderWarnings, wasLate } from './warnings'

export function DeliveryPage({ id }: { readonly id: OrderID }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const due = dueOf(farm.sales, id)
  if (!due) return <GoneDelivery id={id} />
  const buyer = buyerOf(farm.sales, due.buyer)
  return (
    <>
      <PageHead title={t('orders.delivery', { day: dayName(due.day, today.value) })} back={href('shed', 'orders')} />
      <div class="page orders reading">
        <p class="say"><a href={href('shed', 'orders', 'buyers', due.buyer)}><b>{buyer?.name ?? t('orders.buyer.unknown')}</b></a></p>
        <Whence due={due} />
        <Warnings due={due} />
        <Packed due={due} />
        <ul class="rows">{due.lines.map((line) => <li key={line.id}><LineInWords due={due} line={line} may={may} /></li>)}</ul>
        {due.lines.length === 0 && <p>{t('orders.lines.none')}</p>}
        {may.manage && <Comes due={due} />}
        {may.manage && <SeePayments order={due.order} />}
        {due.note !== '' && <p class="note">{due.note}</p>}
        {may.manage && <Actions due={due} />}
      </div>
    </>
  )
}

function GoneDelivery({ id }: { readonly id: OrderID }) {
  const may = useRights()
  const { sales } = useNotebook().farm.value
  const packed = packedLinesOf(sales, id).reduce((sum, line) => sum + bunchesPacked(sales, line.id), 0)
  return (
    <>
      <PageHead title={t('orders.title')} back={href('shed', 'orders')} />
      <div class="page">
        <p>{t('orders.gone')}</p>
        {packed > 0 && <p class="note warn">{t('orders.gone.packed', { n: packed })} <a href={href('shed')}>{t('orders.gone.look')}</a></p>}
        {may.manage && <SeePayments order={id} />}
      </div>
    </>
  )
}

function Whence({ due }: { readonly due: Due }) {
  const { sales } = useNotebook().farm.value
  const order = sales.orders.get(due.order)
  const behind = due.standing === '' ? standingBehind(sales, due.order)?.standing.id : due.standing
  return (
    <p class="small">
      {due.standing !== '' ? t('orders.of_standing') : behind ? t('orders.changed_once') : order && order.taken !== '' ? t('orders.taken', { day: dayName(order.taken, today.value) }) : ''}
      {behind && <> <a href={href('shed', 'orders', 'standing', behind)}>{t('orders.standing.see')}</a></>}
    </p>
  )
}

function Warnings({ due }: { readonly due: Due }) {
  const farm = useNotebook().farm.value
  const channel = channelOf(farm.sales, due.buyer)
  const order = farm.sales.orders.get(due.order)
  const kinds = orderWarnings(farm.sales, due.buyer, due.day, today.value, 0).filter(({ kind }) => kind !== 'past' && kind !== 'late')
  return (
    <>
      {kinds.map((one) => <p key={one.kind} class="note warn">{orderWarningText(farm, due.buyer, due.day, one, today.value)}</p>)}
      {order && wasLate(channel, order) && <p class="note warn">{t('orders.warn.was_late', { channel: channel?.name ?? '' })}</p>}
    </>
  )
}

/** What is packed for it already, which stays whatever becomes of the order. */
function Packed({ due }: { readonly due: Due }) {
  const { sales } = useNotebook().farm.value
  const packed = packedFrom(sales, due)
  return packed === 0 ? null : <p class="note">{t('orders.packed', { n: packed, all: count(due.lines.reduce((sum, line) => sum + line.bunches, 0)) })}</p>
}

function LineInWords({ due, line, may }: { readonly due: Due; readonly line: Due['lines'][number]; readonly may: Rights }) {
  const farm = useNotebook().farm.value
  const price = linePrice(farm.sales, due.buyer, line, due.day)
  const money = (cents: number) => amount(cents as Cents, farm.sales.terms.currency)
  const packed = bunchesPacked(farm.sales, line.id)
  return (
    <div class="delivery">
      <span>
        <Swatches farm={farm} colours={line.colours} />{lineText(farm, line)}
        {packed > 0 && <a class="small block" href={href('shed', 'claims', line.id)}>{t('line.see_packed', { n: packed })}</a>}
      </span>
      {may.manage && price > 0 && <span class="num">{money(price * line.bunches)}<span class="small block">{t('orders.each', { price: money(price) })}</span></span>}
      {may.manage && lineWarnings(farm.sales, due.buyer, line, due.day).map((one) => <p key={one.kind} class="note warn">{lineWarningText(farm, one)}</p>)}
    </div>
  )
}

/** What the delivery comes to, for the owner. */
function Comes({ due }: { readonly due: Due }) {
  const { sales, money } = useNotebook().farm.value
  const total = totalOf(sales, due)
  const channel = channelOf(sales, due.buyer)
  const sum = (cents: Cents) => amount(cents, sales.terms.currency)
  const paid = paymentsFor(money, due.order)
  return (
    <dl class="facts">
      {total.fee > 0 && <><dt>{t('orders.fee.buyer')}</dt><dd>{sum(total.fee)}</dd></>}
      <dt><b>{t('orders.total')}</b></dt><dd><b>{sum(total.cents)}</b></dd>
      {total.kept > 0 && <><dt>{t('orders.kept', { percent: percentTyped(channel?.commission ?? 0) })}</dt><dd>{sum(total.kept)}</dd></>}
      {channel && channel.fee > 0 && !channel.buyerPays && <><dt>{t('orders.fee.ours')}</dt><dd>{sum(channel.fee)}</dd></>}
      {paid.map(({ id, date, cents }) => <Fragment key={id}><dt>{t('orders.paid', { day: dayName(date, today.value) })}</dt><dd>{sum(cents)}</dd></Fragment>)}
    </dl>
  )
}

/** Payments of an order are put right where those of invoices are. */
function SeePayments({ order }: { readonly order: OrderID }) {
  const n = paymentsFor(useNotebook().farm.value.money, order).length
  return n === 0 ? null : <p><a class="btn" href={href('money', 'order', order)}>{t('orders.payments', { n })}</a></p>
}

function Actions({ due }: { readonly due: Due }) {
  const notebook = useNotebook()
  const { sales } = notebook.farm.value
  const [failure, setFailure] = useState('')
  const act = async (deed: (now: Sales, then: Due) => Deed, said: string) => {
    try {
      await doPlanned(notebook, (now) => deed(now, dueOf(now, due.order) ?? due), said)
      go('shed', 'orders')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const words = { buyer: buyerOf(sales, due.buyer)?.name ?? '', day: dayName(due.day, today.value) }
  const packed = packedFrom(sales, due)
  const said = packed > 0 ? t('orders.withdrawn.packed', { ...words, n: packed }) : t('orders.withdrawn', words)
  return (
    <div class="sale-do">
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
      {!mayCancel(sales, due) && <p class="small">{t('orders.packed.all')}</p>}
      <div class="buttons">
        {mayGoBack(sales, due) && <button type="button" class="btn" onClick={() => void act((_, then) => withdrawOrder(then), t('orders.as_standing.said', words))}>{t('orders.as_standing')}</button>}
        {mayCancel(sales, due) && <button type="button" class="btn" onClick={() => void act(cancelDelivery, said)}>{cancelText(sales, due, packed)}</button>}
      </div>
      <a class="btn main" href={href('shed', 'orders', 'change', due.order)}>{t('orders.change')}</a>
    </div>
  )
}

/** Where all is packed there is nothing to withdraw: what was packed would have to be taken back before. */
function mayCancel(sales: Sales, due: Due): boolean {
  return due.lines.length === 0 || due.lines.some(({ id, bunches }) => bunchesPacked(sales, id) < bunches)
}

function cancelText(sales: Sales, due: Due, packed: number): string {
  if (packed > 0) return t('orders.only_packed')
  return t(due.standing !== '' || standingBehind(sales, due.order) ? 'orders.skip' : 'orders.withdraw')
}
