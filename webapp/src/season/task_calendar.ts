// Tasks as entries of a calendar.

import { addDays } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import type { TaskNow } from '../crop/tasks'
import { t } from '../messages/messages'
import { taskCares, taskTitle, taskWhere, taskWhy } from '../ui/task_words'
import type { CalendarEntry } from './calendar_file'

/** Those that have a day. One whose last day is over stands from its first day until today. */
export function entriesOf(farm: Farm, tasks: readonly TaskNow[], today: Day): CalendarEntry[] {
  return tasks.flatMap((task): CalendarEntry[] => {
    if (task.first === '' || task.last === '') return []
    const where = taskWhere(farm, task)
    const title = taskTitle(task)
    return [{
      uid: `${task.id}@${farm.id}.corymb`, first: task.first, last: task.last < today ? today : task.last,
      summary: where === '' ? title : t('tasks.calendar.summary', { task: title, where }),
      description: [...(task.kind === 'own' ? [] : [t(`tasks.what.${task.kind}`)]), taskWhy(farm, task.why), ...taskCares(task.kind)].filter(Boolean).join('\n'),
      cancelled: false,
    }]
  })
}

/** Entries that end long ago are forgotten, so that what a device keeps does not grow. */
export function isRemembered({ last }: CalendarEntry, today: Day): boolean {
  return last >= addDays(today, -400)
}
