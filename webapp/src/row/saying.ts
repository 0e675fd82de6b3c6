// What a walk says of a plant, as facts: stems cut, nothing here, and either taken back.
//
// Stems unsay the person's own "nothing here" of the day, and once the last of them is taken back it is
// said again: that they were a slip does not make the plant unseen.
//
// Clean or to order is said of the whole visit, that is of one person at one plant on one day, and
// what it says is how the plant was left: cut clean, its count is all it bore; cut to order, no more
// than a lower bound. So the last count of the day decides. Turning the switch in the middle of a
// walk changes nothing that is stored; a plant counted again afterwards takes the flag over, for
// better (it was cleared after all) or worse (stems were left after all); and taking that count back
// puts the flag back to what the count before it said, unless it was put right by hand meanwhile.

import type { ReadonlySignal } from '@preact/signals'
import { stemsIn } from '../crop/bed_day'
import { countFact, plantCell, toOrderFact, visitFacts, withdrawnFact } from '../crop/facts'
import { mostStems, type PlantID, type VisitID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { flushOf } from '../crop/visit_day'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'
import { ChangedSince, type Tap } from '../ui/taps'
import { today } from '../ui/today'
import { bedOfPlant } from './day'
import { type Action, type CountAction, countBeside, type Journal, replacedBy } from './journal'
import type { Step } from './steps'

type Cut = Pick<CountAction, 'visit' | 'plant' | 'toOrder'>

/** A tap that counts stems, with what it means for the walk. */
export function cutTap(notebook: Notebook, journal: ReadonlySignal<Journal | undefined>, action: CountAction, step: Step): Tap & Step {
  const { visit, grade, length, stems } = action
  const cell = plantCell(grade, length)
  return {
    ...step, visit, cell, add: stems, most: mostStems,
    before: (): readonly Fact[] => cutFacts(notebook, journal.peek(), action),
    count: (value) => countFact('field', visit, cell, value),
  }
}

/** The visit that stems are counted in, and that there is not nothing here. */
function cutFacts(notebook: Notebook, journal: Journal | undefined, action: CountAction): Fact[] {
  const nothing = nothingSaid(notebook, action.plant)
  replacedBy(journal, action, nothing)
  return [...ofVisit(notebook, action), ...(nothing === undefined ? [] : [withdrawnFact('visit', nothing, true)])]
}

function ofVisit(notebook: Notebook, { visit, plant, toOrder }: Cut): readonly Fact[] {
  const begun = notebook.farm.peek().visits.get(visit)
  if (!begun) return newVisit(notebook, visit, plant, 'cut', toOrder)
  return begun.toOrder === toOrder ? [] : [toOrderFact(visit, toOrder)]
}

/** This person's own "nothing here" of the day, where it stands. */
function nothingSaid(notebook: Notebook, plant: PlantID): VisitID | undefined {
  const nothing = notebook.visitID(plant, today.peek(), 'nothing')
  return notebook.farm.peek().visits.has(nothing) ? nothing : undefined
}

export function nothingFacts(notebook: Notebook, plant: PlantID, visit: VisitID): Fact[] {
  const begun = notebook.farm.peek().visits.has(visit)
  return [...(begun ? [] : newVisit(notebook, visit, plant, 'nothing', false)), withdrawnFact('visit', visit, false)]
}

/**
 * Taking back: of a count what goes with its smaller number, of "nothing here" the whole visit. adds: what
 * everything stored together adds to the visit, so that it is known whether a stem is left. Throws
 * ChangedSince of a count whose visit was withdrawn meanwhile, as a repeat, say: it no longer counts.
 */
export function undoneFacts(notebook: Notebook, journal: Journal | undefined, action: Action, adds: number): Fact[] {
  if (action.kind === 'closed') return action.visits.map(({ visit }) => withdrawnFact('visit', visit, true))
  if (action.kind === 'nothing') return [withdrawnFact('visit', action.visit, true)]
  const visit = notebook.farm.peek().visits.get(action.visit)
  if (!visit && notebook.visit(action.visit)) throw new ChangedSince()
  const isPutRight = visit !== undefined && visit.toOrder !== action.toOrder
  const { toOrder } = isPutRight ? visit : (countBeside(journal, action) ?? action)
  const facts = ofVisit(notebook, { ...action, toOrder })
  const nothing = replacedBy(journal, action)
  const isStemLeft = (visit ? stemsIn(visit) : 0) + adds > 0
  return nothing === undefined || isStemLeft ? [...facts] : [...facts, withdrawnFact('visit', nothing, false)]
}

function newVisit(
  notebook: Notebook, visit: VisitID, plant: PlantID, purpose: 'cut' | 'nothing', toOrder: boolean,
): readonly Fact[] {
  const farm = notebook.farm.peek()
  const bed = bedOfPlant(farm, plant)
  const date = today.peek()
  const flush = flushOf(bed === undefined ? undefined : farm.beds.get(bed), seasonOf(farm.calendar, date), date)
  return visitFacts({
    id: visit, plant, bed: bed ?? '', date, purpose, person: notebook.person.peek(), flush,
    toOrder, planting: '', age: 0, stage: '', counts: [],
  })
}
