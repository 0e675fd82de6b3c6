// A new standing order, or one that changes from a day on: what was delivered before stays as it was.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { parseDay } from '../crop/day'
import type { Deed } from '../crop/deed'
import type { Day } from '../crop/nouns'
import { buyerOf } from '../crop/price_of'
import type { BuyerID, Sales, StandingID, StandingOrder, Weekdays } from '../crop/sale_nouns'
import { packedDues } from '../crop/standing_packed'
import { successorID } from '../crop/successors'
import { dayName, listed, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { goInstead, href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { BuyerPick } from './BuyerPick'
import { doPlanned } from './deeds'
import { LineDrafts } from './LineDrafts'
import { NumberStepper } from './NumberStepper'
import { changeFrom, changeStanding, writeStanding, writtenDays } from './order_deeds'
import { draftOfLine, freshInOrder, type Problem, readStanding, type StandingDraft } from './order_form'
import { nextOf, standingLines } from './standing_words'
import { problemText } from './warning_words'
import { WeekdayPick } from './WeekdayPick'

interface StandingFormPageProps {
  /** What changes; undefined where it is a new one. */
  readonly before: StandingOrder | undefined
  readonly buyer: BuyerID | ''
}

export function StandingFormPage({ before: asked, buyer }: StandingFormPageProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { sales } = farm
  // What differs from how it was opened is said, and not what another device has changed meanwhile.
  const [before] = useState(asked)
  const [linesBefore] = useState(() => (asked ? standingLines(sales, asked.id) : []))
  const [draft, setDraft] = useState<StandingDraft>(() => beginning())
  const [newID] = useState(() => newUUID() as StandingID)
  const [problems, setProblems] = useState<readonly Problem[]>([])
  const [failure, setFailure] = useState('')
  function beginning(): StandingDraft {
    if (!before) return { buyer, days: '' as Weekdays, every: '1', from: today.peek(), until: '', note: '', lines: [] }
    // Most changes are meant from the next delivery on; one that has not begun changes as a whole.
    const from = nextOf(before, today.peek(), 1)[0] ?? today.peek()
    const lines = linesBefore.map((line) => draftOfLine(line, farm.unit))
    return { buyer: before.buyer, days: before.days, every: String(Math.max(before.every, 1)), from, until: before.until, note: before.note, lines }
  }
  const tell = (part: Partial<StandingDraft>) => {
    setDraft((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const from = parseDay(draft.from)
  const asWhole = before !== undefined && from !== undefined && before.from >= today.value && from <= before.from
  const save = async (event: Event) => {
    event.preventDefault()
    const made = asWhole ? { id: before.id, skips: before.skips } : { id: before && from ? successorID(before.id, from) : newID, skips: [] }
    const read = readStanding(draft, made, farm.unit)
    if ('problems' in read) return setProblems(read.problems)
    const after = { head: read.head, lines: freshInOrder(read.lines, linesBefore.map(({ id }) => id)) }
    const plan = (now: Sales): Deed => {
      if (!before) return writeStanding(after)
      if (asWhole) return changeStanding(now, { head: before, lines: linesBefore }, after)
      return changeFrom(now, now.standings.get(before.id) ?? before, after)
    }
    try {
      await doPlanned(notebook, plan, t('orders.standing.saved', { buyer: buyerOf(sales, read.head.buyer)?.name ?? '' }))
      goInstead('shed', 'orders', 'standing', read.head.id)
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const apart = before && !asWhole && from ? writtenDays(sales, before.id, from) : []
  const packed = before && from ? packedDues(sales, before.id, from).map(({ day }) => day) : []
  const daysSaid = (days: readonly Day[]) => listed(days.map((day) => dayName(day, today.value)))
  return (
    <>
      <PageHead title={t(before ? 'orders.standing.change' : 'orders.standing.new')} back={before ? href('shed', 'orders', 'standing', before.id) : href('shed', 'orders', 'standing')} />
      {draft.buyer === ''
        ? <div class="page orders"><BuyerPick sales={sales} onPick={(chosen) => tell({ buyer: chosen })} /></div>
        : (
          <form class="page orders" noValidate onSubmit={(event) => void save(event)}>
            <div class="columns">
              <div>
                <p class="say"><b>{buyerOf(sales, draft.buyer)?.name ?? t('orders.buyer.unknown')}</b></p>
                {before && !asWhole && <p class="note">{t('orders.standing.before_stays')}</p>}
                {apart.length > 0 && <p class="note">{t('orders.standing.apart', { days: daysSaid(apart) })}</p>}
                {packed.length > 0 && <p class="note">{t('orders.standing.packed', { days: daysSaid(packed) })}</p>}
                <WeekdayPick label={t('orders.standing.days')} days={draft.days} onDays={(days) => tell({ days })} />
                <NumberStepper label={t('orders.standing.every')} value={draft.every} least={1} most={52} onChange={(every) => tell({ every })} />
                <div class="two-fields">
                  <label class="field"><span>{t(before ? 'orders.standing.changes_from' : 'orders.standing.from')}</span><input type="date" value={draft.from} onInput={(event) => tell({ from: event.currentTarget.value })} /></label>
                  <label class="field"><span>{t('orders.standing.until')}</span><input type="date" value={draft.until} onInput={(event) => tell({ until: event.currentTarget.value })} /></label>
                </div>
                <label class="field"><span>{t('orders.note')}</span><input value={draft.note} maxLength={500} autocomplete="off" onInput={(event) => tell({ note: event.currentTarget.value })} /></label>
              </div>
              <div><LineDrafts farm={farm} buyer={draft.buyer} day={from ?? today.value} follows lines={draft.lines} onLines={(lines) => tell({ lines })} /></div>
            </div>
            <div class="sale-do">
              {problems.map((one) => <p key={`${one.of} ${'line' in one ? one.line : ''}`} class="note stop" role="alert">{problemText(one)}</p>)}
              {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
              <button type="submit" class="btn main">{t('orders.save')}</button>
            </div>
          </form>
        )}
    </>
  )
}
