// Which visit, or which record of what was packed, a person on this phone goes on with, and which visits were begun
// here.

import { packedIDOf, visitIDOf } from '../crop/cells'
import type { BedID, Day, PersonID, PlantID, PlantingID, Purpose, VisitID } from '../crop/nouns'
import type { LineID, PackedID } from '../crop/sale_nouns'
import { happened } from '../log/happened'
import { text, withdrawn } from '../log/read'
import type { Entity } from '../log/state'
import type { Book } from './book'

/**
 * The visit of a person to a plant, planting or bed on a day: one that was begun here goes on. Once it was
 * withdrawn, or given another day, what is recorded for its old day is a further visit.
 */
export function ownVisit(
  book: Book, person: PersonID | '', subject: PlantID | PlantingID | BedID, recorded: Day, purpose: Purpose,
): VisitID {
  const idOf = (writer: string, nth: number) => visitIDOf(writer, person, subject, recorded, purpose, nth)
  // "Nothing here" is taken back and said again as often as one likes: that holds no number to be mixed up.
  const goesOn = (e: Entity) => isOf(e, recorded) && (purpose === 'nothing' || !withdrawn(e))
  return goingOn(book, 'visit', idOf, goesOn)
}

/** What a person packs for a line on a day, in the same way. */
export function ownPacked(book: Book, person: PersonID | '', line: LineID, day: Day): PackedID {
  const idOf = (writer: string, nth: number) => packedIDOf(writer, person, line, day, nth)
  return goingOn(book, 'packed', idOf, (e) => isOf(e, day) && !withdrawn(e))
}

function goingOn<ID extends string>(book: Book, type: string, idOf: (writer: string, nth: number) => ID, goesOn: (e: Entity) => boolean): ID {
  const { incarnation, formers } = book.pen
  for (let nth = 1; ; nth++) {
    const ids = [incarnation, ...formers].map(writer => idOf(writer, nth))
    // One begun under a former incarnation of this phone goes on.
    const begun = ids.find(id => book.entity(type, id) !== undefined)
    if (begun === undefined) return ids[0]!
    if (goesOn(book.entity(type, begun)!)) return begun
  }
}

function isOf(e: Entity, day: Day): boolean {
  return [day, ''].includes(text(e, 'date'))
}

/** Whether a visit was recorded on this phone, by whomever. */
export function isFromHere(book: Book, visit: VisitID): boolean {
  const entity = book.entity('visit', visit)
  // What it was for is told when it is begun, and never corrected.
  const begun = entity && happened(entity).find(({ op, field }) => op === 'set' && field === 'purpose')
  return begun !== undefined && [book.pen.incarnation, ...book.pen.formers].includes(begun.incarnation)
}
