// Tasks in words: what, where, when and why.

import type { ExpectedCut } from '../crop/first_cuts'
import type { Day, Farm } from '../crop/nouns'
import type { TaskDeed } from '../crop/task_deeds'
import type { TaskNow, Why } from '../crop/tasks'
import { count, dayAndMonth, dayName, daysName, t } from '../messages/messages'

export function taskTitle({ kind, what }: Pick<TaskNow, 'kind' | 'what'>): string {
  return kind === 'own' ? what : t(`tasks.kind.${kind}`)
}

/** The bed or the stock of a task; of a task of neither, all beds, and of an own one nothing. */
export function taskWhere(farm: Farm, { kind, bed, stock }: Pick<TaskNow, 'kind' | 'bed' | 'stock'>): string {
  if (bed !== '') return farm.beds.get(bed)?.name ?? ''
  if (stock !== '') return farm.stocks.get(stock)?.name ?? t('stock.unknown')
  return kind === 'own' ? '' : t('tasks.whole_farm')
}

export function deedName(how: TaskDeed): string {
  return how === 'tick' ? t('tasks.done') : t(`event.kind.${how}`)
}

/** Until when, or since when not. */
export function taskWhen(farm: Farm, task: TaskNow, today: Day): string {
  const { state, first, last, putOff, done, shown, person } = task
  switch (state) {
    case 'done': {
      const by = farm.people.get(person as Exclude<typeof person, ''>)?.name
      const day = dayName(done, today)
      return shown ? t('tasks.when.seen', { day }) : by === undefined ? t('tasks.when.done', { day }) : t('tasks.when.done_by', { day, person: by })
    }
    case 'dropped': return t('tasks.when.dropped')
    case 'lapsed': return t('tasks.when.lapsed', { day: dayName(last, today) })
    case 'late': return t('tasks.when.late', { day: dayName(last, today) })
    case 'due': return last === '' ? t('tasks.when.any') : t('tasks.when.by', { day: dayName(last, today) })
    case 'coming': return putOff !== '' ? t('tasks.when.put_off', { day: dayName(putOff, today) }) : t('tasks.when.days', { days: daysName(first as Day, last as Day) })
  }
}

/** '' of an own task. */
export function taskWhy(farm: Farm, why: Why): string {
  switch (why.by) {
    case 'first_cut': return cutWhy(farm, why.cut)
    case 'heaviest': {
      const { first, total } = why.week
      return t('tasks.why.heaviest', { day: dayAndMonth(first), n: count(Math.round(total.mean)), lo: count(Math.round(total.q05)), hi: count(Math.round(total.q95)) })
    }
    case 'little': return t('tasks.why.little', { day: dayAndMonth(why.from) })
    case 'spring': return t('tasks.why.spring', { day: dayAndMonth(why.from) })
    case 'planned':
    case 'old': return why.plants === 0 ? '' : t(`tasks.why.${why.by}`, { n: why.plants })
    case 'planting': return t('tasks.why.planting', { day: dayAndMonth(why.day) })
    case 'own': return ''
  }
}

function cutWhy(farm: Farm, { from, early, likely, late, stock, lead }: ExpectedCut): string {
  const day = dayAndMonth(likely)
  switch (from) {
    case 'came': return t('tasks.why.came', { day })
    case 'forecast': return t('tasks.why.forecast', { stock: stock === '' ? '' : farm.stocks.get(stock)?.name ?? t('stock.unknown'), days: daysName(early, late) })
    case 'seasons': return lead === 0 ? t('tasks.why.seasons', { day }) : t(lead > 0 ? 'tasks.why.ahead' : 'tasks.why.behind', { day, n: Math.abs(lead) })
    case 'practice': return t('tasks.why.practice', { day })
  }
}

/** The cautions of a task, the gravest first; common practice. */
export function taskCares(kind: TaskNow['kind']): string[] {
  switch (kind) {
    case 'corral': return [t('tasks.care.stakes'), t('tasks.care.sap')]
    case 'first_look':
    case 'heavy_week': return [t('tasks.care.heat'), t('tasks.care.lifting'), t('tasks.care.sap')]
    case 'deadhead':
    case 'cut_back': return [t('tasks.care.blades'), t('tasks.care.sap'), t('tasks.care.heat')]
    case 'divide': return [t('tasks.care.lifting'), t('tasks.care.blades'), t('tasks.care.sap'), t('tasks.care.protected')]
    case 'label_mothers':
    case 'stand_walk':
    case 'order_plugs':
    case 'own': return []
  }
}
