// Work as it is written down: by the timer and by hand, put right and taken away.

import { changing, type Deed } from '../crop/deed'
import { dayOf } from '../crop/day'
import { mayCorrect, mayManage, type Member } from '../crop/member'
import { workFacts, workWithdrawn } from '../crop/money_facts'
import type { Money, Work, WorkID } from '../crop/money_nouns'
import type { Day } from '../crop/nouns'
import type { Timer } from './timer'

/** Of a new entry; taking it back withdraws it. */
export function workedDeed(work: Work): Deed {
  return { facts: factsOf(work), undo: [workWithdrawn(work.id, true)] }
}

/** What a timer leaves: on the day on which it was started, over midnight too. */
export function timedWork(id: WorkID, { kind, since, person, bed }: Timer, minutes: number): Work {
  return { id, date: dayOf(new Date(since)), person, kind, minutes, bed, channel: '', note: '' }
}

export function correctedDeed(before: Work, now: Work): Deed {
  return changing(allFacts(before), allFacts(now))
}

export function goneDeed(id: WorkID): Deed {
  return { facts: [workWithdrawn(id, true)], undo: [workWithdrawn(id, false)] }
}

/** What is empty is not told: crew may not name a channel, not even that there is none. */
function factsOf({ person, bed, channel, note, ...told }: Work) {
  return workFacts(told.id, {
    date: told.date, kind: told.kind, minutes: told.minutes,
    ...(person !== '' && { person }), ...(bed !== '' && { bed }), ...(channel !== '' && { channel }), ...(note !== '' && { note }),
  })
}

function allFacts({ id, ...told }: Work) {
  return workFacts(id, told)
}

export interface WorkedDay {
  readonly day: Day
  readonly work: readonly Work[]
  readonly minutes: number
}

/** The work of days, each day's in the order of its people and kinds. */
export function workedOn({ work, workOn }: Pick<Money, 'work' | 'workOn'>, days: readonly Day[], nameOf: (work: Work) => string): WorkedDay[] {
  return days.map((day) => {
    const all = [...workOn.get(day) ?? []].flatMap((id) => work.get(id) ?? [])
    all.sort((a, b) => nameOf(a).localeCompare(nameOf(b)) || a.kind.localeCompare(b.kind) || (a.id < b.id ? -1 : 1))
    return { day, work: all, minutes: all.reduce((sum, { minutes }) => sum + minutes, 0) }
  })
}

/** An owner puts all work right, crew its own; a device that has not joined, what it wrote. */
export function mayPutRight(member: Member | undefined, { person }: Pick<Work, 'person'>): boolean {
  return member === undefined || mayManage(member) || mayCorrect(member, person, person === '')
}
