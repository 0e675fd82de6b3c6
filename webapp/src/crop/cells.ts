// Names inside changes: count cells and visit ids. Mirrors internal/farm/schema.go.

import type { Origin } from '../log/origin'
import { originID } from '../log/origin'
import type { BedID, ColourID, Day, LengthClass, Millimetres, PersonID, PlantID, PlantingID, Visit } from './nouns'
import type { LineID, PackedID } from './sale_nouns'
import { gradesHighToLow, openEnd, type Purpose, type ToldGrade, type VisitID } from './nouns'

/** Names the count cell of a grade and length class at a plant: "extra|500|600". */
export function plantCell(grade: ToldGrade, length: LengthClass): string {
  return `${grade}|${length.lo}|${length.hi}`
}

/** Names the count cell of a bed cut or bench total, colour first: "c1|extra|500|600". */
export function bedCell(colour: ColourID | '', grade: ToldGrade, length: LengthClass): string {
  return `${colour}|${plantCell(grade, length)}`
}

export interface Cell {
  readonly ofBed: boolean
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
}

/** Reads a count cell's name; undefined where it is none, or not written as it should be. */
export function parseCell(name: string): Cell | undefined {
  const parts = name.split('|')
  const ofBed = parts.length === 4
  const colour = (ofBed ? parts.shift()! : '') as ColourID | ''
  if (parts.length !== 3) return undefined
  const grade = parts[0] as ToldGrade
  const length = { lo: Number(parts[1]) as Millimetres, hi: Number(parts[2]) as Millimetres }
  if (grade !== '' && !gradesHighToLow.includes(grade)) return undefined
  if (!boundsMake(length)) return undefined
  const written = ofBed ? bedCell(colour, grade, length) : plantCell(grade, length)
  return written === name ? { ofBed, colour, grade, length } : undefined
}

function boundsMake({ lo, hi }: LengthClass): boolean {
  if (!Number.isInteger(lo) || !Number.isInteger(hi)) return false
  return (lo === 0 && hi === 0) || (lo >= 0 && lo < hi && hi <= openEnd)
}

/**
 * Derives a visit's id, so that the same person at the same plant (or bed, or planting) on the same
 * recorded day for the same purpose is one visit on one device: UUID version 5 (RFC 9562). A further one,
 * after the nth was withdrawn or given another day, has an id of its own.
 */
export function visitIDOf(
  incarnation: string,
  person: PersonID | '',
  subject: PlantID | PlantingID | BedID,
  recorded: Day,
  purpose: Purpose,
  nth = 1,
): VisitID {
  return derived(incarnation, person, subject, recorded, purpose, nth) as VisitID
}

/** Derives the id of what a person packs for a line on a day on one device, in the same way. */
export function packedIDOf(incarnation: string, person: PersonID | '', line: LineID, day: Day, nth = 1): PackedID {
  return derived(incarnation, person, line, day, 'packed', nth) as PackedID
}

function derived(namespace: string, person: string, subject: string, day: Day, purpose: string, nth: number): string {
  const id = originID({ namespace, person, subject, recorded: nth === 1 ? day : `${day}#${nth}`, purpose })
  if (id === undefined) throw new Error(`deriving an id: ${namespace} is no UUID, or ${subject} is too long`)
  return id
}

/**
 * Finds out what a visit's id was derived from: by one of the writers, for the visit's person or the
 * one told, unless its day or subject was corrected since.
 */
export function originOfVisit(v: Omit<Visit, 'beside'>, writers: readonly string[], person: string): Origin | undefined {
  const subjects = v.plant !== '' ? [v.plant] : [v.planting, v.bed, `${v.bed}#${v.age}`].filter(s => s !== '')
  for (const namespace of writers) {
    for (const by of new Set([v.person, person])) {
      for (const subject of subjects) {
        const origin = { namespace, person: by, subject, recorded: v.date, purpose: v.purpose }
        if (originID(origin) === v.id) return origin
      }
    }
  }
  return undefined
}
