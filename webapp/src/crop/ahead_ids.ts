// The ids of what lies ahead, which say of what it is. Mirrors internal/farm/ahead_schema.go.

import { type GrownTaskKind, grownTaskKinds, type IntentID, type TaskID } from './ahead_nouns'
import type { BedID, PlantID, PlantingID, Season, StockID } from './nouns'

/** What the id of a task says that follows from what grows. */
export interface TaskName {
  readonly season: Season
  readonly kind: GrownTaskKind
  readonly of: BedID | PlantingID | StockID
}

/** "2026.cut_back.b1". */
export function taskIDOf({ season, kind, of }: TaskName): TaskID {
  return `${season}.${kind}.${of}` as TaskID
}

/** Undefined for any other id than `taskIDOf` gives. */
export function parseTaskID(id: TaskID): TaskName | undefined {
  const [, digits, kind, of] = /^([1-9]\d{3})\.([^.]*)\.(.+)$/s.exec(id) ?? []
  if (of === undefined || !grownTaskKinds.includes(kind as GrownTaskKind)) return undefined
  return { season: Number(digits) as Season, kind: kind as GrownTaskKind, of: of as TaskName['of'] }
}

/** Whether an id is of a task in somebody's own words: all others have dots. */
export function isOwnTask(id: TaskID): boolean {
  return !id.includes('.')
}

/** "2026.p1". */
export function intentIDOf(season: Season, plant: PlantID): IntentID {
  return `${season}.${plant}` as IntentID
}

/** Undefined for any other id than `intentIDOf` gives. */
export function parseIntentID(id: IntentID): { readonly season: Season; readonly plant: PlantID } | undefined {
  const [, digits, plant] = /^([1-9]\d{3})\.(.+)$/s.exec(id) ?? []
  return plant === undefined ? undefined : { season: Number(digits) as Season, plant: plant as PlantID }
}

export function parseSeason(id: string): Season | undefined {
  return /^[1-9]\d{3}$/.test(id) ? Number(id) as Season : undefined
}
