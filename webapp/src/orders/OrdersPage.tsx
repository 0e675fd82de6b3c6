// What is to be delivered, day by day: who gets what, and for the owner what it comes to.

import type { RefObject } from 'preact'
import { useMemo, useRef } from 'preact/hooks'
import { addDays } from '../crop/day'
import { type Due, dueBetween } from '../crop/due'
import type { Day, Farm } from '../crop/nouns'
import { buyerOf, channelOf } from '../crop/price_of'
import type { Cents } from '../crop/sale_nouns'
import { packedFrom } from '../crop/standing_packed'
import { weekOf } from '../crop/week'
import { count, dateName, dayName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { type Rights, useRights } from '../ui/rights'
import { href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { GoneBuyers } from './GoneBuyers'
import { totalOf } from './totals'
import { useGrowing } from './use_growing'
import { missesDays, wasLate } from './warnings'

const daysShown = 14

/** from: the first day shown; undefined from today on. */
export function OrdersPage({ from }: { readonly from: Day | undefined }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { sales } = farm
  const first = from ?? today.value
  const last = addDays(first, daysShown - 1)
  const days = useMemo(() => byDay(dueBetween(sales, first, last)), [sales, first, last])
  const links = useRef<HTMLElement>(null)
  const drawn = useGrowing([...days.values()].reduce((sum, dues) => sum + dues.length, 0))
  return (
    <>
      <PageHead title={t('orders.title')} back={href('shed')} />
      <div class="page orders">
        <Say text={from === undefined ? promisedText([...days.values()].flat(), last) : t('orders.between', { from: dateName(first), to: dateName(last) })} />
        <div class="columns">
          <div>
            <GoneBuyers />
            <div class="buttons">
              <a class="btn" href={href('shed', 'orders', 'from', addDays(first, -daysShown))}>{t('orders.earlier')}</a>
              {from !== undefined && <a class="btn" href={href('shed', 'orders')}>{t('orders.today')}</a>}
              {from !== undefined && <a class="btn" href={href('shed', 'orders', 'from', addDays(first, daysShown))}>{t('orders.later')}</a>}
              {days.size > 0 && <button type="button" class="btn to-links" onClick={() => links.current?.querySelector('a')?.focus()}>{t('orders.jump')}</button>}
            </div>
            {days.size === 0 && from !== undefined && <p>{t('orders.none.then')}</p>}
            {daysDrawn(days, drawn).map(([day, dues, room]) => <OneDay key={day} farm={farm} day={day} dues={dues} drawn={room} may={may} />)}
            {from === undefined && <a class="btn" href={href('shed', 'orders', 'from', addDays(first, daysShown))}>{t('orders.later')}</a>}
          </div>
          <Links may={may} place={links} />
        </div>
        {may.manage && (
          <div class="sale-do">
            <a class="btn main" href={href('shed', 'orders', 'new')}>{t('orders.new')}</a>
          </div>
        )}
      </div>
    </>
  )
}

function byDay(dues: readonly Due[]): Map<Day, Due[]> {
  const days = new Map<Day, Due[]>()
  for (const due of dues) days.set(due.day, [...days.get(due.day) ?? [], due])
  return days
}

/** The days on which so many deliveries lie, each with how many of its own are drawn. */
function daysDrawn(days: ReadonlyMap<Day, readonly Due[]>, drawn: number): (readonly [Day, readonly Due[], number])[] {
  let room = drawn
  return [...days].flatMap(([day, dues]) => {
    const own = Math.min(room, dues.length)
    room -= own
    return own > 0 ? [[day, dues, own] as const] : []
  })
}

/** A line that is not yet due is a promise. */
function promisedText(dues: readonly Due[], last: Day): string {
  const ahead = dues.filter(({ day, lines }) => day > today.value && lines.length > 0)
  if (ahead.length === 0) return t('orders.none')
  const lines = ahead.flatMap((due) => due.lines)
  const bunches = lines.reduce((sum, line) => sum + line.bunches, 0)
  const stems = lines.reduce((sum, line) => sum + line.bunches * line.stems, 0)
  return t('orders.promised', {
    bunches: t('orders.bunches', { n: bunches }), stems: t('orders.stems', { n: stems }), n: new Set(ahead.map(({ buyer }) => buyer)).size, day: dayName(last, today.value),
  })
}

interface OneDayProps {
  readonly farm: Farm
  readonly day: Day
  readonly dues: readonly Due[]
  /** How many of them are drawn. */
  readonly drawn: number
  readonly may: Rights
}

function OneDay({ farm, day, dues, drawn, may }: OneDayProps) {
  const totals = dues.map((due) => totalOf(farm.sales, due))
  const bunches = totals.reduce((sum, one) => sum + one.bunches, 0)
  const cents = totals.reduce((sum, one) => sum + one.cents, 0)
  const { number } = weekOf(day)
  return (
    <section class="day">
      <h2>
        <span>{dayName(day, today.value)}<span class="small block">{t('orders.week', { n: String(number) })} · {t('orders.bunches', { n: bunches })}</span></span>
        {may.manage && cents > 0 && <span class="num">{amount(cents as Cents, farm.sales.terms.currency)}</span>}
      </h2>
      {dues.slice(0, drawn).map((due, i) => <OneDelivery key={due.order} farm={farm} due={due} cents={totals[i]!.cents} unpriced={totals[i]!.unpriced} may={may} />)}
    </section>
  )
}

interface OneDeliveryProps {
  readonly farm: Farm
  readonly due: Due
  readonly cents: Cents
  readonly unpriced: number
  readonly may: Rights
}

function OneDelivery({ farm, due, cents, unpriced, may }: OneDeliveryProps) {
  const { sales } = farm
  const channel = channelOf(sales, due.buyer)
  const packed = packedFrom(sales, due)
  const beside = [
    ...(due.standing !== '' ? [t('orders.standing.short')] : []),
    ...(packed > 0 ? [t('orders.packed.short', { packed, all: count(due.lines.reduce((sum, line) => sum + line.bunches, 0)) })] : []),
  ]
  const order = sales.orders.get(due.order)
  const mind = [
    ...(sales.goneBuyers.has(due.buyer) ? [t('orders.mind.gone')] : []),
    ...(channel && missesDays(channel, due.day) ? [t('orders.mind.weekday', { channel: channel.name })] : []),
    ...(order && wasLate(channel, order) ? [t('orders.mind.late')] : []),
    ...(may.manage && unpriced > 0 ? [t('orders.mind.unpriced', { n: unpriced })] : []),
  ]
  return (
    <a class="delivery" href={href('shed', 'orders', 'order', due.order)}>
      <span><b>{buyerOf(sales, due.buyer)?.name ?? t('orders.buyer.unknown')}</b>{beside.length > 0 && <span class="small block">{beside.join(' · ')}</span>}</span>
      {may.manage && cents > 0 ? <span class="num">{amount(cents, sales.terms.currency)}</span> : <span />}
      <ul class="lines">{due.lines.map((line) => <li key={line.id}>{lineText(farm, line)}</li>)}</ul>
      {due.lines.length === 0 && <span class="small">{t('orders.lines.none')}</span>}
      {mind.length > 0 && <span class="note warn">{mind.join(' ')}</span>}
    </a>
  )
}

function Links({ may, place }: { readonly may: Rights; readonly place: RefObject<HTMLElement | null> }) {
  const to = (page: string) => href('shed', 'orders', page)
  return (
    <nav ref={place} class="links" aria-label={t('orders.more')}>
      <a class="btn" href={to('standing')}>{t('orders.standing.title')}</a>
      <a class="btn" href={to('buyers')}>{t('orders.buyers.title')}</a>
      <a class="btn" href={to('channels')}>{t('orders.channels.title')}</a>
      <a class="btn" href={to('bunches')}>{t('orders.rules.title')}</a>
      {may.manage && <a class="btn" href={to('prices')}>{t('orders.prices.title')}</a>}
      {may.manage && <a class="btn" href={to('terms')}>{t('orders.terms.title')}</a>}
    </nav>
  )
}
