// What is to be done now in one bed: in a word, and with a tap for each.

import type { BedID } from '../crop/nouns'
import { deedsOf } from '../crop/task_deeds'
import { dueNow, type TaskNow } from '../crop/tasks'
import { t } from '../messages/messages'
import { useNotebook } from './notebook'
import { useRights } from './rights'
import { href } from './route'
import { deedName, taskTitle, taskWhen } from './task_words'
import './bed-tasks.css'
import { onDone, tasksNow } from './tasks_now'
import { today } from './today'
import { UndoNote } from './UndoNote'
import { useUndoable } from './use_undoable'

function dueIn(tasks: readonly TaskNow[], bed: BedID): TaskNow[] {
  return dueNow(tasks).filter((task) => task.bed === bed)
}

/** A line, or nothing where there is nothing to do. */
export function BedTasksLine({ bed }: { readonly bed: BedID }) {
  const due = dueIn(tasksNow(useNotebook()), bed)
  if (due.length === 0) return null
  return <p class="small bed-tasks-line">{t('tasks.line', { what: due.map(taskTitle).join(' · ') })}</p>
}

export function BedTasks({ bed }: { readonly bed: BedID }) {
  const notebook = useNotebook()
  const doing = useUndoable()
  const may = useRights()
  const farm = notebook.farm.value
  const due = dueIn(tasksNow(notebook), bed)
  if (due.length === 0 && !doing.done) return null
  return (
    <section class="card bed-tasks" aria-label={t('tasks.here')}>
      <UndoNote {...doing} />
      {due.length > 0 && <h2>{t('tasks.here')}</h2>}
      <ul class="rows">
        {due.map((task) => (
          <li key={task.id} class="bed-task">
            <span><b>{taskTitle(task)}</b><span class="small block">{taskWhen(farm, task, today.value)}</span></span>
            {may.record && deedsOf(task, may.manage).map((how) => (
              <button key={how} type="button" class="btn" aria-label={t('tasks.done.named', { deed: deedName(how), where: taskTitle(task) })} onClick={() => void doing.act(onDone(notebook, task.id, how))}>{deedName(how)}</button>
            ))}
          </li>
        ))}
      </ul>
      <a class="btn quiet" href={href('ahead', 'tasks')}>{t('season.tasks')}</a>
    </section>
  )
}
