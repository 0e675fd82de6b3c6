// Changing a count that was stored before: the writer sets its own part anew, anybody else records
// a correction that names the total it saw.

import { correctFact, countFact, visitScope } from '../crop/facts'
import type { PlantID, PlantingID, BedID, Visit } from '../crop/nouns'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'

/** The fact that brings a visit's cell to the wanted total, or undefined where it stands there already. */
export function factForTotal(notebook: Notebook, visit: Visit, cell: string, wanted: number): Fact | undefined {
  const { own, total, tips } = notebook.cell(visit.id, cell)
  if (wanted === total && tips.length < 2) return undefined
  const scope = visitScope(visit.purpose)
  const difference = wanted - total
  if (isOwn(notebook, visit) && tips.length === 0 && own + difference >= 0) {
    return countFact(scope, visit.id, cell, own + difference)
  }
  return correctFact(scope, visit.id, cell, difference, total, tips)
}

/** Whether this person on this phone made the visit. */
export function isOwn(notebook: Notebook, visit: Visit): boolean {
  const subject: PlantID | PlantingID | BedID | '' = visit.plant || visit.planting || visit.bed
  return subject !== '' && notebook.visitID(subject, visit.date, visit.purpose) === visit.id
}
