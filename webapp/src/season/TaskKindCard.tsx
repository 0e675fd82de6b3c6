// Tasks of one kind that are to be done now, in each bed one: what it is and its cautions are said once.

import type { TaskKind } from '../crop/ahead_nouns'
import type { TaskNow } from '../crop/tasks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { taskCares } from '../ui/task_words'
import type { Undoable } from '../ui/use_undoable'
import { TaskLine } from './TaskLine'

interface TaskKindCardProps {
  readonly kind: TaskKind
  readonly tasks: readonly TaskNow[]
  readonly doing: Undoable
}

export function TaskKindCard({ kind, tasks, doing }: TaskKindCardProps) {
  const cares = taskCares(kind)
  return (
    <section class="card task-kind">
      <h2>{t(`tasks.kind.${kind}`)}</h2>
      <p class="small">{t(`tasks.what.${kind}`)}</p>
      <ul class="rows">{tasks.map((task) => <TaskLine key={task.id} task={task} doing={doing} />)}</ul>
      {cares.length > 0 && (
        <p class="small care">
          <Icon name="care" /> {[...cares, t('tasks.care.rules')].join(' ')}
        </p>
      )}
    </section>
  )
}
