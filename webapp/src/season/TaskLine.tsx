// One task in one place: why and until when, done with one tap; behind "more", put off, left out or taken back.

import { useState } from 'preact/hooks'
import { addDays, parseDay } from '../crop/day'
import type { Day } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { deedsOf, droppedDeed, ownGoneDeed, putOffDeed, type TaskDeed, undoneDeed } from '../crop/task_deeds'
import type { TaskNow } from '../crop/tasks'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { type Rights, useRights } from '../ui/rights'
import { href } from '../ui/route'
import { deedName, taskTitle, taskWhen, taskWhere, taskWhy } from '../ui/task_words'
import { onDone, onTask } from '../ui/tasks_now'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'

interface TaskLineProps {
  readonly task: TaskNow
  readonly doing: Undoable
  /** It stands under no heading of its kind. */
  readonly titled?: boolean
}

export function TaskLine({ task, doing, titled = false }: TaskLineProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const [open, setOpen] = useState(false)
  const where = taskWhere(farm, task)
  const title = taskTitle(task)
  const name = titled || task.kind === 'own' ? [title, where].filter(Boolean).join(': ') : where
  const isNext = task.season > seasonOf(farm.calendar, today.value)
  const isDue = task.state === 'due' || task.state === 'late'
  const done = (how: TaskDeed) => { void doing.act(onDone(notebook, task.id, how)) }
  return (
    <li class={`task ${task.state}`}>
      <p>
        <b>{name}</b>
        <span class={`small block${task.state === 'late' ? ' late' : ''}`}>{[taskWhen(farm, task, today.value), ...(isNext ? [t('tasks.next_season', { season: String(task.season) })] : [])].join(' · ')}</span>
        {(isDue || open) && <span class="small block">{taskWhy(farm, task.why)}</span>}
        {isDue && task.kind === 'cut_back' && may.record && !may.manage && <span class="small block">{t('tasks.cut_back.owner')}</span>}
      </p>
      {may.record && (
        <div class="task-do">
          {isDue && deedsOf(task, may.manage).map((how) => (
            <button key={how} type="button" class="btn deed" aria-label={t('tasks.done.named', { deed: deedName(how), where: name })} onClick={() => done(how)}>
              {deedName(how)}
            </button>
          ))}
          <button type="button" class="btn quiet" aria-expanded={open} aria-label={t('tasks.more.named', { task: title, where })} onClick={() => setOpen(!open)}>{t('tasks.more')}</button>
        </div>
      )}
      {open && <TaskMore task={task} doing={doing} may={may} done={done} onDone={() => setOpen(false)} />}
    </li>
  )
}

interface TaskMoreProps {
  readonly task: TaskNow
  readonly doing: Undoable
  readonly may: Rights
  readonly done: (how: TaskDeed) => void
  readonly onDone: () => void
}

function TaskMore({ task, doing, may, done, onDone }: TaskMoreProps) {
  const notebook = useNotebook()
  const open = task.state === 'due' || task.state === 'late' || task.state === 'coming' || task.state === 'lapsed'
  const act = async (plan: Parameters<Undoable['act']>[0]) => { if (await doing.act(plan)) onDone() }
  const named = (key: 'tasks.said.undone' | 'tasks.said.back_on' | 'tasks.said.dropped') => (where: string, what: string) => t(key, { task: what, where })
  const putOff = (to: Day | '') => act(onTask(
    notebook, task.id, (farm, one) => putOffDeed(farm, one, to),
    (where, what) => (to === '' ? t('tasks.said.back_on', { task: what, where }) : t('tasks.said.put_off', { task: what, where, day: dayName(to, today.peek()) })),
  ))
  const isOwn = task.kind === 'own'
  const mayUndo = task.done !== '' && (!task.shown || (notebook.farm.value.ahead.tasks.get(task.id)?.done ?? '') !== '') && (task.kind !== 'cut_back' || may.manage)
  return (
    <div class="task-more">
      <GoThere task={task} />
      {(task.state === 'coming' || task.state === 'lapsed') && deedsOf(task, may.manage).map((how) => (
        <button key={how} type="button" class="btn" onClick={() => { done(how); onDone() }}>{deedName(how)}</button>
      ))}
      {open && <PutOff task={task} onPut={(to) => void putOff(to)} />}
      {open && !isOwn && <button type="button" class="btn" onClick={() => void act(onTask(notebook, task.id, (farm, one) => droppedDeed(farm, one, true), named('tasks.said.dropped')))}>{t('tasks.drop')}</button>}
      {task.state === 'dropped' && <button type="button" class="btn" onClick={() => void act(onTask(notebook, task.id, (farm, one) => droppedDeed(farm, one, false), named('tasks.said.back_on')))}>{t('tasks.undrop')}</button>}
      {mayUndo && <button type="button" class="btn" onClick={() => void act(onTask(notebook, task.id, undoneDeed, named('tasks.said.undone')))}>{t('tasks.not_done')}</button>}
      {isOwn && <button type="button" class="btn" onClick={() => void act(onTask(notebook, task.id, (_, one) => ownGoneDeed(one.id), (_, what) => t('tasks.said.gone', { what })))}>{t('tasks.own.away')}</button>}
    </div>
  )
}

/** Where the task is done, where that is a page of its own. */
function GoThere({ task: { kind, bed } }: { readonly task: TaskNow }) {
  if (kind === 'divide') return <a class="btn" href={href('ahead', 'division')}>{t('tasks.go.divide')}</a>
  if (bed === '') return null
  if (kind === 'stand_walk') return <a class="btn" href={href('row', 'stand', bed)}>{t('tasks.go.stand_walk')}</a>
  if (kind === 'first_look') return <a class="btn" href={href('row', 'bed', bed)}>{t('tasks.go.first_look')}</a>
  if (kind === 'label_mothers') return <a class="btn" href={href('beds', 'bed', bed)}>{t('tasks.go.label_mothers')}</a>
  return null
}

function PutOff({ task, onPut }: { readonly task: TaskNow; readonly onPut: (to: Day | '') => void }) {
  const [typed, setTyped] = useState('')
  const now = today.value
  const day = parseDay(typed)
  return (
    <fieldset class="field">
      <legend>{t('tasks.put_off')}</legend>
      <div class="choices">
        <button type="button" class="btn" onClick={() => onPut(addDays(now, 1))}>{t('tasks.put_off.tomorrow')}</button>
        <button type="button" class="btn" onClick={() => onPut(addDays(now, 3))}>{t('tasks.put_off.three')}</button>
        <button type="button" class="btn" onClick={() => onPut(addDays(now, 7))}>{t('tasks.put_off.week')}</button>
        {task.putOff !== '' && <button type="button" class="btn" onClick={() => onPut('')}>{t('tasks.put_off.end')}</button>}
      </div>
      <div class="two-fields">
        <label class="field">
          <span>{t('tasks.put_off.day')}</span>
          <input type="date" min={addDays(now, 1)} value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <button type="button" class="btn" disabled={day === undefined || day <= now} onClick={() => { if (day !== undefined && day > now) onPut(day) }}>{t('tasks.put_off')}</button>
      </div>
    </fieldset>
  )
}
