// What people saw at a plant: flags, notes, its stand in spring and its colour, each with day and
// person. Flags and notes are elements that carry them in their name, so that clearing keeps them.

import { changedMembers, type ChangedMember } from '../log/read'
import type { Entity } from '../log/state'
import { bySeason } from './by_season'
import { parseDay } from './day'
import type { ClearedFlag, ColourID, Day, Flag, FlagKind, Note, PersonID, Plant, Season, Seen, Stand } from './nouns'
import { flagKinds } from './nouns'

type Marks = Pick<Plant, 'flags' | 'flagsCleared' | 'notes' | 'stands' | 'colours'>

export function readMarks(e: Entity): Marks {
  return { ...readFlags(e), notes: readNotes(e), stands: readSeen<Stand>(e, 'stand.'), colours: readSeen<ColourID>(e, 'colour.') }
}

/** Writes a flag as an element of the set `flags`. */
export function formatFlag(flag: Flag): string {
  return `${flag.kind}/${flag.day}/${flag.by}`
}

/** Writes a note as an element of the set `notes`. */
export function formatNote(note: Note): string {
  return `${note.day}/${note.by}/${note.text}`
}

/** Writes what was seen of a plant in a season. */
export function formatSeen(seen: Seen<string>): string {
  return `${seen.day}/${seen.what}`
}

/** Flags, notes and photos of most plants are none: one array serves them all. */
const none: readonly never[] = []

function readFlags(e: Entity): Pick<Plant, 'flags' | 'flagsCleared'> {
  const all = changedMembers(e, 'flags')
  if (all.length === 0) return { flags: none, flagsCleared: none }
  const read = (on: boolean) => all.filter((one) => one.on === on).flatMap((one) => flagOf(one))
  return { flags: read(true).sort(newestFirst), flagsCleared: read(false) }
}

function flagOf({ name, at, by }: ChangedMember): ClearedFlag[] {
  const [kind, day, ...person] = name.split('/')
  const parsed = parseDay(day ?? '')
  if (!flagKinds.includes(kind as FlagKind) || parsed === undefined) return [] // of a later version
  return [{ kind: kind as FlagKind, day: parsed, by: person.join('/') as PersonID | '', clearedAt: at, clearedBy: by as PersonID | '' }]
}

function readNotes(e: Entity): readonly Note[] {
  const notes = changedMembers(e, 'notes').filter(({ on }) => on).flatMap(({ name }) => noteOf(name))
  return notes.length === 0 ? none : notes.sort(newestFirst)
}

function noteOf(written: string): Note[] {
  const [, day = '', by = '', text = ''] = /^([^/]*)\/([^/]*)\/(.*)$/s.exec(written) ?? []
  const parsed = parseDay(day)
  return parsed === undefined ? [] : [{ day: parsed, by: by as PersonID | '', text }]
}

function newestFirst(a: { readonly day: Day }, b: { readonly day: Day }): number {
  return a.day < b.day ? 1 : a.day > b.day ? -1 : 0
}

function readSeen<T extends string>(e: Entity, prefix: string): ReadonlyMap<Season, Seen<T>> {
  const found = new Map<Season, Seen<T>>()
  for (const [season, written] of bySeason(e, prefix)) {
    const day = parseDay(written.slice(0, 10))
    if (day !== undefined && written[10] === '/') found.set(season, { day, what: written.slice(11) as T })
  }
  return found.size > 0 ? found : nothingSeen
}

const nothingSeen: ReadonlyMap<Season, never> = new Map<Season, never>()
