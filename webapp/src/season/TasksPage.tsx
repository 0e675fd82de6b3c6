// Every task: what is to be done now, what comes, what is done or left out.

import { useEffect, useState } from 'preact/hooks'
import type { TaskKind } from '../crop/ahead_nouns'
import { dueNow, type TaskNow } from '../crop/tasks'
import { forecast } from '../forecast/forecast'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { tasksNow } from '../ui/tasks_now'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { OwnTaskForm } from './OwnTaskForm'
import { TaskCalendar } from './TaskCalendar'
import { TaskKindCard } from './TaskKindCard'
import { TaskLine } from './TaskLine'

export function TasksPage() {
  const notebook = useNotebook()
  const doing = useUndoable()
  const may = useRights()
  const isLive = notebook.sync.value.link === 'live'
  useEffect(() => { void forecast.refresh(notebook, 'recent') }, [isLive])
  const told = forecast.answer.value
  const tasks = tasksNow(notebook, told)
  const now = dueNow(tasks)
  const coming = tasks.filter(({ state }) => state === 'coming')
  const past = tasks.filter(({ state }) => state === 'done' || state === 'dropped' || state === 'lapsed')
  return (
    <>
      <PageHead title={t('season.tasks')} back={href('ahead')}><SyncChip /></PageHead>
      <div class="page tasks">
        <div class="stays"><UndoNote {...doing} /></div>
        <div class="columns">
          <div>
            {now.length === 0 && <p class="say">{t(tasks.length === 0 ? 'tasks.no_plants' : 'tasks.now.none')}</p>}
            {byKind(now).map(([kind, some]) => <TaskKindCard key={kind} kind={kind} tasks={some} doing={doing} />)}
          </div>
          <div>
            {may.record && <AddOwn doing={doing} />}
            <Coming tasks={coming} doing={doing} />
            {past.length > 0 && (
              <details class="past">
                <summary>{t('tasks.past', { n: past.length })}</summary>
                <ul class="rows">{[...past].reverse().map((task) => <TaskLine key={task.id} task={task} doing={doing} titled />)}</ul>
              </details>
            )}
            <TaskCalendar tasks={[...now, ...coming]} />
            <a class="btn" href={href('ahead', 'weather')}>{t('weather.link')}</a>
            <p class="small">{told ? t('tasks.from.forecast', { day: dayName(told.asof, today.value) }) : t('tasks.from.none')}</p>
          </div>
        </div>
      </div>
    </>
  )
}

/** The kinds of tasks, the one whose first is to be done first, first. */
function byKind(tasks: readonly TaskNow[]): [TaskKind, TaskNow[]][] {
  const found = new Map<TaskKind, TaskNow[]>()
  for (const task of tasks) found.set(task.kind, [...(found.get(task.kind) ?? []), task])
  return [...found]
}

function Coming({ tasks, doing }: { readonly tasks: readonly TaskNow[]; readonly doing: Undoable }) {
  if (tasks.length === 0) return null
  const inTurn = [...tasks].sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : 0))
  return (
    <section>
      <h2>{t('tasks.coming')}</h2>
      <ul class="rows">{inTurn.map((task) => <TaskLine key={task.id} task={task} doing={doing} titled />)}</ul>
    </section>
  )
}

function AddOwn({ doing }: { readonly doing: Undoable }) {
  const [open, setOpen] = useState(false)
  if (open) return <OwnTaskForm doing={doing} onDone={() => setOpen(false)} />
  return <button type="button" class="btn" onClick={() => setOpen(true)}>{t('tasks.own.add')}</button>
}
