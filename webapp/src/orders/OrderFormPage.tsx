// A new order, or one that is changed: who, for which day, and its lines.

import { useMemo, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { parseDay } from '../crop/day'
import { type Due, dueOf } from '../crop/due'
import type { Day } from '../crop/nouns'
import { buyerOf, channelOf } from '../crop/price_of'
import type { BuyerID, LineID, Order, OrderID } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { nowOf } from '../ui/clock'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { goInstead, href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { BuyerPick } from './BuyerPick'
import { doDeed } from './deeds'
import { LineDrafts } from './LineDrafts'
import { type Written, writeOrder } from './order_deeds'
import { draftOfLine, freshInOrder, lastOrders, linesAgain, nextDays, type OrderDraft, packedProblems, type Problem, readOrder } from './order_form'
import { orderWarningText, problemText } from './warning_words'
import { orderWarnings } from './warnings'

interface OrderFormPageProps {
  /** What is changed; undefined where it is a new one. */
  readonly before: Due | undefined
  readonly buyer: BuyerID | ''
}

export function OrderFormPage({ before, buyer }: OrderFormPageProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { sales } = farm
  const now = nowOf(notebook)
  const [id] = useState<OrderID>(() => before?.order ?? (newUUID() as OrderID))
  const [draft, setDraft] = useState<OrderDraft>(() => (before
    ? { buyer: before.buyer, day: before.day, note: before.note, lines: before.lines.map((line) => draftOfLine(line, farm.unit)) }
    : { buyer, day: buyer === '' ? '' : firstDay(buyer), note: '', lines: [] }))
  // What differs from how it was opened is said, and not what another device has changed meanwhile.
  const [was] = useState<Written<Order> | undefined>(() => {
    const head = sales.orders.get(id)
    return head && { head, lines: before?.lines ?? [] }
  })
  const [problems, setProblems] = useState<readonly Problem[]>([])
  const [failure, setFailure] = useState('')
  const tell = (part: Partial<OrderDraft>) => {
    setDraft((all) => ({ ...all, ...part }))
    setProblems([])
  }
  function firstDay(of: BuyerID): string {
    return nextDays(channelOf(sales, of), today.peek(), now, 1)[0] ?? ''
  }
  const day = parseDay(draft.day)
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readOrder(draft, { id, taken: was?.head.taken || today.peek() }, sales, farm.unit)
    if ('problems' in read) return setProblems(read.problems)
    const tooFew = packedProblems(sales, before?.lines ?? [], read.lines)
    if (tooFew.length > 0) return setProblems(tooFew)
    try {
      await doDeed(notebook, writeOrder(was, { ...read, lines: freshInOrder(read.lines, was?.lines.map((line) => line.id) ?? []) }), t('orders.saved', { buyer: buyerOf(sales, read.head.buyer)?.name ?? '', day: dayName(read.head.due, today.peek()) }))
      goInstead('shed', 'orders', 'order', id)
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  return (
    <>
      <PageHead title={t(before ? 'orders.change' : 'orders.new')} back={before ? href('shed', 'orders', 'order', id) : href('shed', 'orders')} />
      {draft.buyer === ''
        ? <div class="page orders"><BuyerPick sales={sales} onPick={(chosen) => tell({ buyer: chosen, day: draft.day || firstDay(chosen) })} /></div>
        : (
          <form class="page orders" noValidate onSubmit={(event) => void save(event)}>
            <div class="columns">
              <div>
                <div class="who">
                  <p class="say"><b>{buyerOf(sales, draft.buyer)?.name ?? t('orders.buyer.unknown')}</b></p>
                  {!before && <button type="button" class="btn quiet" onClick={() => tell({ buyer: '' })}>{t('orders.buyer.other')}</button>}
                </div>
                <DayPick buyer={draft.buyer} day={draft.day} nowMs={now} onDay={(chosen) => tell({ day: chosen })} />
                {day && orderWarnings(sales, draft.buyer, day, today.value, now).map((one) => (
                  <p key={one.kind} class="note warn">{orderWarningText(farm, draft.buyer as BuyerID, day, one, today.value)}</p>
                ))}
              </div>
              <div>
                {!before && draft.lines.length === 0 && <LastAgain buyer={draft.buyer} day={day ?? today.value} onTake={(lines) => tell({ lines })} />}
                <LineDrafts key={draft.lines.length === 0 ? 'none' : 'some'} farm={farm} buyer={draft.buyer} day={day ?? today.value} lines={draft.lines} onLines={(lines) => tell({ lines })} />
                <label class="field">
                  <span>{t('orders.note')}</span>
                  <input value={draft.note} maxLength={500} autocomplete="off" onInput={(event) => tell({ note: event.currentTarget.value })} />
                </label>
              </div>
            </div>
            <div class="sale-do">
              {problems.map((one) => <p key={`${one.of} ${'line' in one ? one.line : ''}`} class="note stop" role="alert">{problemText(one)}</p>)}
              {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
              <button type="submit" class="btn main">{t(before ? 'orders.save' : 'orders.take')}</button>
            </div>
          </form>
        )}
    </>
  )
}

interface DayPickProps {
  readonly buyer: BuyerID
  readonly day: string
  readonly nowMs: number
  readonly onDay: (day: string) => void
}

function DayPick({ buyer, day, nowMs, onDay }: DayPickProps) {
  const { sales } = useNotebook().farm.value
  const next = nextDays(channelOf(sales, buyer), today.value, nowMs, 4)
  return (
    <>
      <fieldset class="field">
        <legend>{t('orders.day')}</legend>
        <div class="choices days">
          {next.map((one) => <button key={one} type="button" class="btn" aria-pressed={one === day} onClick={() => onDay(one)}>{dayName(one, today.value)}</button>)}
        </div>
      </fieldset>
      <label class="field">
        <span>{t('orders.day.other')}</span>
        <input type="date" value={day} onInput={(event) => onDay(event.currentTarget.value)} />
      </label>
    </>
  )
}

interface LastAgainProps {
  readonly buyer: BuyerID
  readonly day: Day
  readonly onTake: (lines: OrderDraft['lines']) => void
}

/** What the buyer ordered last, as a start. */
function LastAgain({ buyer, day, onTake }: LastAgainProps) {
  const { sales, unit } = useNotebook().farm.value
  const last = useMemo(() => {
    const order = lastOrders(sales).get(buyer)
    return order && dueOf(sales, order.id)
  }, [sales, buyer])
  if (!last || last.lines.length === 0) return null
  const again = () => onTake(linesAgain(sales, last, day, unit, () => newUUID() as LineID))
  return <button type="button" class="btn tall" onClick={again}>{t('orders.again', { day: dayName(last.day, today.value), n: last.lines.length })}</button>
}
