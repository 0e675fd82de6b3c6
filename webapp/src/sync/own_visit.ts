// Which visit a person on this phone goes on with, and which visits were begun here.

import { visitIDOf } from '../crop/cells'
import type { BedID, Day, PersonID, PlantID, PlantingID, Purpose, VisitID } from '../crop/nouns'
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
  const { incarnation, formers } = book.pen
  for (let nth = 1; ; nth++) {
    const ids = [incarnation, ...formers].map(writer => visitIDOf(writer, person, subject, recorded, purpose, nth))
    // One begun under a former incarnation of this phone goes on.
    const begun = ids.map(id => book.entity('visit', id)).find(entity => entity !== undefined)
    if (begun === undefined) return ids[0]!
    if (goesOn(begun, recorded, purpose)) return begun.key.id as VisitID
  }
}

/** "Nothing here" is taken back and said again as often as one likes: that holds no number to be mixed up. */
function goesOn(e: Entity, recorded: Day, purpose: Purpose): boolean {
  return [recorded, ''].includes(text(e, 'date')) && (purpose === 'nothing' || !withdrawn(e))
}

/** Whether a visit was recorded on this phone, by whomever. */
export function isFromHere(book: Book, visit: VisitID): boolean {
  const entity = book.entity('visit', visit)
  // What it was for is told when it is begun, and never corrected.
  const begun = entity && happened(entity).find(({ op, field }) => op === 'set' && field === 'purpose')
  return begun !== undefined && [book.pen.incarnation, ...book.pen.formers].includes(begun.incarnation)
}
