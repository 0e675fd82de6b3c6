// One standing order: its lines, its next days, each of which can be left out or changed, and its end.

import { useState } from 'preact/hooks'
import { addDays } from '../crop/day'
import type { Deed } from '../crop/deed'
import { dueOf } from '../crop/due'
import type { Day } from '../crop/nouns'
import { buyerOf } from '../crop/price_of'
import type { OrderID, Sales, StandingOrder } from '../crop/sale_nouns'
import { packedDues, packedFrom } from '../crop/standing_packed'
import { dayName, listed, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { Swatches } from './ColourPick'
import { doPlanned } from './deeds'
import { cancelDelivery, endStanding, skipDay } from './order_deeds'
import { hasEnded, nextOf, standingLines, standingText } from './standing_words'

const daysShown = 6

export function StandingPage({ standing }: { readonly standing: StandingOrder }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { sales } = farm
  const may = useRights()
  const [failure, setFailure] = useState('')
  const name = buyerOf(sales, standing.buyer)?.name ?? t('orders.buyer.unknown')
  const act: OnDeed = (plan, said) => { doPlanned(notebook, plan, said).catch((reason: unknown) => setFailure(failureText(reason))) }
  const next = nextOf(standing, today.value, daysShown)
  const packed = packedDues(sales, standing.id, today.value).map(({ day }) => dayName(day, today.value))
  return (
    <>
      <PageHead title={t('orders.standing.one')} back={href('shed', 'orders', 'standing')} />
      <div class="page orders reading">
        <p class="say"><a href={href('shed', 'orders', 'buyers', standing.buyer)}><b>{name}</b></a></p>
        <p>{standingText(standing, today.value)}</p>
        {sales.goneBuyers.has(standing.buyer) && <p class="note warn">{t('orders.warn.gone')}</p>}
        <ul class="rows">{standingLines(sales, standing.id).map((line) => <li key={line.id} class="delivery"><span><Swatches farm={farm} colours={line.colours} />{lineText(farm, line)}</span></li>)}</ul>
        {standing.note !== '' && <p class="note">{standing.note}</p>}
        <h2>{t('orders.standing.next')}</h2>
        {next.length === 0 && <p>{t('orders.standing.over')}</p>}
        <ul class="rows">
          {next.map((day) => <li key={day}><NextDay standing={standing} day={day} mayChange={may.manage} onDeed={act} /></li>)}
        </ul>
        {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
        {may.manage && !hasEnded(standing, today.value) && (
          <div class="sale-do">
            {packed.length > 0 && <p class="small">{t('orders.standing.packed', { days: listed(packed) })}</p>}
            <button type="button" class="btn" onClick={() => act((now) => endStanding(now, standing, addDays(today.peek(), -1)), t('orders.standing.ended', { buyer: name }))}>{t('orders.standing.end')}</button>
            <a class="btn main" href={href('shed', 'orders', 'standing', standing.id, 'change')}>{t('orders.standing.change')}</a>
          </div>
        )}
      </div>
    </>
  )
}

type OnDeed = (plan: (sales: Sales) => Deed, said: string) => void

interface NextDayProps {
  readonly standing: StandingOrder
  readonly day: Day
  readonly mayChange: boolean
  readonly onDeed: OnDeed
}

function NextDay({ standing, day, mayChange, onDeed }: NextDayProps) {
  const { sales } = useNotebook().farm.value
  const order = `${standing.id}@${day}` as OrderID
  const written = sales.orders.has(order)
  const skipped = !written && standing.skips.includes(day)
  const named = dayName(day, today.value)
  const due = dueOf(sales, order)
  const packed = due ? packedFrom(sales, due) : 0
  const leaveOut = (now: Sales) => {
    const then = dueOf(now, order)
    return then ? cancelDelivery(now, then) : skipDay(standing.id, day, true)
  }
  if (skipped) {
    return (
      <div class="line plain">
        <span>{named} <span class="small block">{t('orders.standing.skipped')}</span></span>
        {mayChange && <button type="button" class="btn" onClick={() => onDeed(() => skipDay(standing.id, day, false), t('orders.standing.unskipped', { day: named }))}>{t('orders.standing.unskip')}</button>}
      </div>
    )
  }
  return (
    <div class="line plain">
      <a href={href('shed', 'orders', 'order', order)}><b>{named}</b>{written && <span class="small block">{t('orders.changed_once')}</span>}{packed > 0 && <span class="small block">{t('claim.packed', { n: packed })}</span>}</a>
      {mayChange && !written && packed === 0 && <button type="button" class="btn" aria-label={t('orders.standing.skip.day', { day: named })} onClick={() => onDeed(leaveOut, t('orders.standing.was_skipped', { day: named }))}>{t('orders.standing.skip')}</button>}
    </div>
  )
}
