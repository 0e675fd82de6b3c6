// What was done on a walk, the newest last, so that it can be read and taken back.

import type { Day, LengthClass, PlantID, ToldGrade, VisitID } from '../crop/nouns'

export interface CountAction {
  readonly kind: 'count'
  readonly plant: PlantID
  readonly visit: VisitID
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly stems: number
}

export interface NothingAction {
  readonly kind: 'nothing'
  readonly plant: PlantID
  readonly visit: VisitID
}

export type Action = CountAction | NothingAction

/** A day's actions that can still be taken back. */
export interface Journal {
  readonly day: Day
  readonly actions: readonly Action[]
}

/** Actions kept: as far back as anybody remembers a finger's slip. */
const longest = 30

export function added(journal: Journal | undefined, action: Action, day: Day): Journal {
  const before = journal?.day === day ? journal.actions : []
  return { day, actions: [...before, action].slice(-longest) }
}

/** The action that taking back undoes; none on a new day or when all are on their way back. */
export function lastOf(journal: Journal | undefined, day: Day, onTheirWay: ReadonlySet<Action>): Action | undefined {
  if (journal?.day !== day) return undefined
  return journal.actions.findLast((action) => !onTheirWay.has(action))
}

/** The journal without one action: not always the last, where several are being taken back. */
export function without(journal: Journal | undefined, action: Action): Journal | undefined {
  return journal && { ...journal, actions: journal.actions.filter((other) => other !== action) }
}
