// What was done on a walk, the newest last, so that it can be read and taken back.

import type { BedID, Day, LengthClass, PlantID, ToldGrade, VisitID } from '../crop/nouns'

export interface CountAction {
  readonly kind: 'count'
  readonly plant: PlantID
  readonly visit: VisitID
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly stems: number
  /** Wanted stems were left standing. */
  readonly toOrder: boolean
  /** The person's own "nothing here" that the visit's counts replaced, told once its turn to be stored comes. */
  nothing?: VisitID
}

export interface NothingAction {
  readonly kind: 'nothing'
  readonly plant: PlantID
  readonly visit: VisitID
}

/** A bed that was closed: "nothing here" of every counted plant that nobody had touched. */
export interface ClosedAction {
  readonly kind: 'closed'
  readonly bed: BedID
  readonly visits: readonly { readonly plant: PlantID; readonly visit: VisitID }[]
}

export type Action = CountAction | NothingAction | ClosedAction

/** A day's actions that can still be taken back. */
export interface Journal {
  readonly day: Day
  readonly actions: readonly Action[]
}

/** Actions kept: as far back as anybody remembers a finger's slip. */
const longest = 30

export function added(journal: Journal | undefined, action: Action, day: Day): Journal {
  const before = journal?.day === day ? journal.actions : []
  if (action.kind === 'count') replacedBy(journal, action)
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

/** The last count at a visit beside one action, where the journal still holds one. */
export function countBeside(journal: Journal | undefined, action: CountAction): CountAction | undefined {
  return journal?.actions.findLast((other): other is CountAction =>
    other !== action && other.kind === 'count' && other.visit === action.visit)
}

/**
 * The "nothing here" that the counts of an action's visit replaced, told from then on to each of them and to
 * the action itself, since each may be the last that is taken back. now: the one that is replaced right now.
 */
export function replacedBy(journal: Journal | undefined, action: CountAction, now?: VisitID): VisitID | undefined {
  const counts = (journal?.actions ?? []).filter((one): one is CountAction => one.kind === 'count' && one.visit === action.visit)
  const nothing = now ?? [action, ...counts].find((one) => one.nothing !== undefined)?.nothing
  if (nothing !== undefined) for (const one of [action, ...counts]) one.nothing = nothing
  return nothing
}

/** The last count that was told a grade, at whatever plant: the cell to count in again. */
export function lastGraded(journal: Journal | undefined, day: Day): CountAction | undefined {
  if (journal?.day !== day) return undefined
  return journal.actions.findLast((action): action is CountAction => action.kind === 'count' && action.grade !== '')
}
