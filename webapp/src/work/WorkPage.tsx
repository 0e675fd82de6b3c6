// Work: a timer that is started and stopped with one tap each, minutes typed by hand, and what was worked on the last days.

import { useEffect, useState } from 'preact/hooks'
import { addDays, parseDay } from '../crop/day'
import { type WorkKind, workKinds } from '../crop/money_nouns'
import type { BedID, Day } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href, route } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, type Undoing, useUndoable } from '../ui/use_undoable'
import { ForgottenTimer } from './ForgottenTimer'
import { minutesSince, clockOf, timed } from './timer'
import { useNow } from './use_now'
import { kindWord, WorkTimer } from './work_timer'
import { BedOptions, WorkForm } from './WorkForm'
import { WorkedDays } from './WorkedDays'
import './work.css'

export function WorkPage() {
  const may = useRights()
  const doing = useTimed()
  return (
    <>
      <PageHead title={t('work.title')} back={href(route.value[0] ?? 'row')}><SyncChip /></PageHead>
      <div class="page reading work">
        <div class="stays"><UndoNote {...doing} /></div>
        {may.record && <TimerCard doing={doing} />}
        {may.record && <AddByHand doing={doing} />}
        <Days doing={doing} />
      </div>
    </>
  )
}

/** As any deed, with the timer shown as it stands once something was stored. */
function useTimed(): Undoable {
  const timer = WorkTimer.of(useNotebook())
  const doing = useUndoable()
  return {
    ...doing,
    act: (plan) => doing.act(plan).finally(() => timer.look()),
    undo: () => doing.undo().finally(() => timer.look()),
  }
}

function TimerCard({ doing }: { readonly doing: Undoable }) {
  const timer = WorkTimer.of(useNotebook())
  const running = timer.running.value
  const now = useNow(running !== undefined)
  const act = (plan: () => Undoing | string) => void doing.act(plan)
  if (running && timed(running, now) === 'ask') return <ForgottenTimer timer={running} onAnswer={(minutes) => act(() => timer.answered(minutes))} />
  return (
    <section class="card timer">
      {running && (
        <>
          <p class="running"><b>{kindWord(running.kind)}</b><span class="clock">{clockOf(minutesSince(running, now))}</span></p>
          <label class="field">
            <span>{t('work.bed')}</span>
            <select value={running.bed} onChange={(event) => void timer.atBed(event.currentTarget.value as BedID | '')}><BedOptions /></select>
          </label>
          <button type="button" class="btn main" onClick={() => act(() => timer.stopping(Date.now()))}>{t('work.stop')}</button>
        </>
      )}
      <h2>{t(running ? 'work.change_to' : 'work.start')}</h2>
      <Kinds but={running?.kind} onChoose={(kind) => act(() => timer.starting(kind, Date.now()))} />
    </section>
  )
}

function Kinds({ but, onChoose }: { readonly but: WorkKind | undefined; readonly onChoose: (kind: WorkKind) => void }) {
  return (
    <div class="work-kinds">
      {workKinds.filter((kind) => kind !== but).map((kind) => (
        <button key={kind} type="button" class="btn" onClick={() => onChoose(kind)}>{kindWord(kind)}</button>
      ))}
    </div>
  )
}

function AddByHand({ doing }: { readonly doing: Undoable }) {
  const [open, setOpen] = useState(false)
  if (open) return <WorkForm before={undefined} doing={doing} onDone={() => setOpen(false)} />
  return <button type="button" class="btn tall" onClick={() => setOpen(true)}><Icon name="numbers" />{t('work.by_hand')}</button>
}

/** Today and yesterday, and another day that is asked for. */
function Days({ doing }: { readonly doing: Undoable }) {
  const [asked, setAsked] = useState('')
  const lately: readonly Day[] = [today.value, addDays(today.value, -1)]
  const other = parseDay(asked)
  useEffect(() => setAsked(''), [today.value])
  return (
    <>
      <WorkedDays days={other && !lately.includes(other) ? [...lately, other] : lately} doing={doing} />
      <label class="field other-day">
        <span>{t('work.other_day')}</span>
        <input type="date" max={today.value} value={asked} onInput={(event) => setAsked(event.currentTarget.value)} />
      </label>
    </>
  )
}
