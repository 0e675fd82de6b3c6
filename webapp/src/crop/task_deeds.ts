// What a tap on a task says: done, and where it is a deed to a bed, that too, in one operation; put off; dropped; and each back.

import { v5 as namedUUID } from 'uuid'
import type { Fact } from '../log/change'
import { ownTaskFacts, ownTaskWithdrawn, taskFacts } from './ahead_facts'
import type { Task, TaskID } from './ahead_nouns'
import { type Deed, together } from './deed'
import { cutBackFacts, eventFacts, withdrawnFact } from './facts'
import type { BedID, Day, EventID, EventKind, Farm, PersonID, Season } from './nouns'
import type { TaskNow } from './tasks'

/** What of the record of a bed a tap may write; 'tick' is of the task alone. */
export type TaskDeed = 'tick' | 'cut_back' | Extract<EventKind, 'corralled' | 'netted' | 'deadheaded'>

/** The ways to have done a task, the usual first; only owners say that a bed was cut back, others tick it. */
export function deedsOf({ kind }: Pick<TaskNow, 'kind'>, manages: boolean): readonly TaskDeed[] {
  switch (kind) {
    case 'corral': return ['netted', 'corralled']
    case 'deadhead': return ['deadheaded']
    case 'cut_back': return [manages ? 'cut_back' : 'tick']
    default: return ['tick']
  }
}

/** Names the ids of events that tasks write. */
const eventNames = '0f4c3a52-8d7b-4a57-9d1e-5b8c6f1d2e90'

/** The event that a task writes: two phones that tell the same deed tell one event. */
export function eventOfTask(task: TaskID, kind: EventKind): EventID {
  return namedUUID(`${task} ${kind}`, eventNames) as EventID
}

/** A task done on a day. */
export function doneDeed(farm: Farm, task: TaskNow, how: TaskDeed, day: Day, person: PersonID | ''): Deed {
  const tick = setDeed(farm, task.id, { done: day, person })
  const { bed } = task
  if (how === 'tick' || bed === '') return tick
  if (how === 'cut_back') return together(tick, cutBackDeed(farm, bed, task.season, day))
  const id = eventOfTask(task.id, how)
  const written = [...eventFacts({ id, bed, kind: how, date: day, person, what: '', until: 0 }), withdrawnFact('event', id, false)]
  return together(tick, { facts: written, undo: [withdrawnFact('event', id, true)] })
}

function cutBackDeed(farm: Farm, bed: BedID, season: Season, day: Day): Deed {
  return { facts: cutBackFacts(bed, season, day), undo: cutBackFacts(bed, season, farm.beds.get(bed)?.cutBack.get(season) ?? '') }
}

/** A tick taken off, and with it what it wrote of the bed. */
export function undoneDeed(farm: Farm, task: TaskNow): Deed {
  const tick = setDeed(farm, task.id, { done: '', person: '' })
  if (task.kind === 'cut_back' && task.shown && task.bed !== '') {
    const day = farm.beds.get(task.bed)?.cutBack.get(task.season) ?? ''
    return together(tick, { facts: cutBackFacts(task.bed, task.season, ''), undo: cutBackFacts(task.bed, task.season, day) })
  }
  const events = (['corralled', 'netted', 'deadheaded'] as const).map((kind) => eventOfTask(task.id, kind)).filter((id) => farm.events.has(id))
  return together(tick, { facts: events.map((id) => withdrawnFact('event', id, true)), undo: events.map((id) => withdrawnFact('event', id, false)) })
}

export function putOffDeed(farm: Farm, task: TaskNow, to: Day | ''): Deed {
  return setDeed(farm, task.id, { due: to })
}

export function droppedDeed(farm: Farm, task: TaskNow, on: boolean): Deed {
  return setDeed(farm, task.id, { dropped: on })
}

type Said = Partial<Pick<Task, 'done' | 'person' | 'due' | 'dropped'>>

/** What was said before, of just what is said now, takes it back. */
function setDeed(farm: Farm, id: TaskID, said: Said): Deed {
  const was: Required<Said> = farm.ahead.tasks.get(id) ?? { done: '', person: '', due: '', dropped: false }
  const before: Said = {
    ...(said.done !== undefined && { done: was.done }), ...(said.person !== undefined && { person: was.person }),
    ...(said.due !== undefined && { due: was.due }), ...(said.dropped !== undefined && { dropped: was.dropped }),
  }
  return { facts: taskFacts(id, said), undo: taskFacts(id, before) }
}

/** A task in somebody's own words, begun. */
export function ownDeed(id: TaskID, what: string, due: Day | '', bed: BedID | ''): Deed {
  const facts: Fact[] = ownTaskFacts(id, { what, ...(due !== '' && { due }), ...(bed !== '' && { bed }) })
  return { facts, undo: [ownTaskWithdrawn(id, true)] }
}

export function ownGoneDeed(id: TaskID): Deed {
  return { facts: [ownTaskWithdrawn(id, true)], undo: [ownTaskWithdrawn(id, false)] }
}
