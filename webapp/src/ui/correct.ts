// Changing what was stored before. Of a count, the writer sets its own part anew on its day, as a tap
// would; later, and by anybody else, it is a correction that names the total it saw, so that what stood
// before stays on record.

import { bedOfVisit } from '../crop/bed_day'
import { correctFact, countFact, type EntityType, visitScope, withdrawnFact } from '../crop/facts'
import type { BedID, Day, Farm, PlantID, PlantingID, Visit, VisitID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { flushOf } from '../crop/visit_day'
import type { Fact, Scope } from '../log/change'
import type { Look, Notebook } from '../sync/notebook'
import { today } from './today'

/**
 * The fact that brings a visit's cell to the wanted total, or undefined where it stands there already.
 * Where the cell wants a look, a correction says that somebody has looked, were it by 0.
 */
export function factForTotal(notebook: Notebook, visit: Visit, cell: string, wanted: number): Fact | undefined {
  const { own, total, tips } = notebook.cell(visit.id, cell)
  const look = notebook.looks.peek().some(({ type, id, field }) => type === 'visit' && id === visit.id && field === cell)
  if (wanted === total && !look) return undefined
  const scope = visitScope(visit.purpose)
  const difference = wanted - total
  const fresh = total === 0 || visit.date === today.peek()
  if (fresh && isOwn(notebook, visit) && tips.length === 0 && !look && own + difference >= 0) {
    return countFact(scope, visit.id, cell, own + difference)
  }
  return correctFact(scope, visit.id, cell, difference, total, tips)
}

/** Brings a visit's cell to the wanted total, from where it stands when the turn to store that comes. */
export function recordTotal(notebook: Notebook, visit: Visit, cell: string, wanted: number): Promise<void> {
  return notebook.recordInTurn(() => {
    const fact = factForTotal(notebook, visit, cell, wanted)
    return { facts: fact ? [fact] : [], alongside: {} }
  })
}

/** Whether a visit says that its plant was cut clean or to order. */
export function saysHowCut({ purpose, plant }: Visit): boolean {
  return purpose === 'cut' && plant !== ''
}

/** Gives a visit another day. Its flush goes along where it was that of its day; its id stays. */
export function factsForDay(farm: Farm, visit: Visit, day: Day): Fact[] {
  const set = (field: string, value: string): Fact => ({ scope: visitScope(visit.purpose), op: 'set', type: 'visit', id: visit.id, field, value })
  const bed = bedOfVisit(farm, visit)
  const flushOn = (on: Day) => flushOf(bed === undefined ? undefined : farm.beds.get(bed), seasonOf(farm.calendar, on), on)
  const moves = visit.flush === flushOn(visit.date) && visit.flush !== flushOn(day)
  return [set('date', day), ...(moves ? [set('flush', flushOn(day))] : [])]
}

/** The fact that leaves out, or brings back, what a look is about; a visit's is of the visit's own scope. */
export function factForWithdrawal(notebook: Notebook, { type, id }: Look, withdrawn: boolean): Fact {
  const visit = type === 'visit' ? notebook.visit(id as VisitID) : undefined
  return withdrawnFact(type as EntityType, id, withdrawn, visit ? visitScope(visit.purpose) : scopeOfType(type))
}

/** What is sold is the shed's, but for what only owners may read; of what is paid and worked, all but work is. */
function scopeOfType(type: string): Scope | undefined {
  if ((ofOwners as readonly string[]).includes(type)) return 'money'
  return (ofTheShed as readonly string[]).includes(type) ? 'shed' : undefined
}

const ofOwners = ['price', 'invoice', 'cost', 'payment', 'statement', 'statement_row'] as const
const ofTheShed = ['channel', 'buyer', 'bunch', 'order', 'standing', 'line', 'packed', 'shrink', 'claim', 'ask', 'plan'] as const

/** Whether this person on this phone made the visit. */
export function isOwn(notebook: Notebook, visit: Visit): boolean {
  const subject: PlantID | PlantingID | BedID | '' = visit.plant || visit.planting || visit.bed
  return subject !== '' && notebook.visitID(subject, visit.date, visit.purpose) === visit.id
}
