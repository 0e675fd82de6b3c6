// The tasks of today as the farm and the forecast kept here have them, and what a tap on one does.

import type { Deed } from '../crop/deed'
import type { Fact } from '../log/change'
import type { TaskID } from '../crop/ahead_nouns'
import type { Day, Farm } from '../crop/nouns'
import { keptForecast, type Outlook, outlookOf } from '../crop/outlook'
import { doneDeed, type TaskDeed } from '../crop/task_deeds'
import { type TaskNow, tasksOf } from '../crop/tasks'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { deedName, taskTitle, taskWhere } from './task_words'
import { today } from './today'
import type { Undoing } from './use_undoable'

interface Known {
  readonly farm: Farm
  readonly day: Day
  readonly outlook: Outlook | undefined
  readonly tasks: readonly TaskNow[]
}

let known: Known | undefined

/** Worked out once for a farm as it stands, whoever on a page asks; by the forecast that the device keeps, where none is given. */
export function tasksNow(notebook: Pick<Notebook, 'farm' | 'kept'>, given?: Outlook): readonly TaskNow[] {
  const farm = notebook.farm.value
  const day = today.value
  const outlook = given ?? outlookKept(notebook)
  if (known?.farm !== farm || known.day !== day || known.outlook !== outlook) known = { farm, day, outlook, tasks: tasksOf(farm, day, outlook) }
  return known.tasks
}

function outlookKept(notebook: Pick<Notebook, 'kept'>): Outlook | undefined {
  return outlookOf(notebook.kept<unknown>(keptForecast))
}

/** Plans what a tap on a task says from the task as it stands by then. */
export function onTask(notebook: Pick<Notebook, 'kept'>, id: TaskID, deed: (farm: Farm, task: TaskNow) => Deed, said: (where: string, task: string) => string): (farm: Farm) => Undoing | string {
  return (farm) => {
    const task = tasksOf(farm, today.peek(), outlookKept(notebook)).find((one) => one.id === id)
    if (!task) return t('tasks.failed')
    const { facts, undo }: { readonly facts: readonly Fact[]; readonly undo: readonly Fact[] } = deed(farm, task)
    return { facts, undo, said: said(taskWhere(farm, task), taskTitle(task)) }
  }
}

/** A task done today by whoever counts here. */
export function onDone(notebook: Pick<Notebook, 'kept' | 'person'>, id: TaskID, how: TaskDeed): (farm: Farm) => Undoing | string {
  return onTask(
    notebook, id, (farm, task) => doneDeed(farm, task, how, today.peek(), notebook.person.peek()),
    (where, task) => doneText(task, where, how),
  )
}

function doneText(task: string, where: string, how: TaskDeed): string {
  return where === '' ? t('tasks.done.named', { deed: deedName(how), where: task }) : t('tasks.said.done', { task, where, deed: deedName(how) })
}
