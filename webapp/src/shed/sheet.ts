// The walk sheet that was written with a pencil, typed in: one number a plant, for one day.

import { stemsIn } from '../crop/bed_day'
import { countedIn, countedOn, stands } from '../crop/standing'
import { countFact, plantCell, visitFacts, withdrawnFact } from '../crop/facts'
import { type BedID, type Day, type Farm, mostStems, type PersonID, type Plant, type PlantID, untoldLength, type VisitID } from '../crop/nouns'
import { bedOn } from '../crop/places'
import { seasonOf } from '../crop/season'
import { flushOf } from '../crop/visit_day'
import { inWalkOrder } from '../crop/walk_order'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'
import { factForTotal } from '../ui/correct'

/** Which plants a sheet lists. */
export type Listed = 'counted' | 'all'

/** The plants of a bed on a day, as they are walked. */
export function plantsOn(farm: Farm, bed: BedID, day: Day, listed: Listed): Plant[] {
  if (listed === 'counted') return countedIn(farm, bed, seasonOf(farm.calendar, day), day)
  return inWalkOrder([...farm.plants.values()].filter((plant) =>
    bedOn(farm, plant, day) === bed && stands(plant.removed, day)))
}

/** What is recorded of a plant on the sheet's day. */
export interface Line {
  /** It is counted on that day, so that its 0 says something. */
  readonly counted: boolean
  /** This person's own number on this device: undefined where there is none, 0 where nothing was there. */
  readonly own: number | undefined
  /** Of the own stems, those recorded by grade or length. */
  readonly graded: number
  /** What others recorded, or the same person elsewhere. */
  readonly others: readonly { readonly person: PersonID | ''; readonly stems: number }[]
}

export function lineOf(notebook: Notebook, farm: Farm, plant: PlantID, day: Day): Line {
  const ids = ownIDs(notebook, plant, day)
  const others: Line['others'][number][] = []
  for (const id of farm.visitsOf.get(plant) ?? []) {
    const visit = farm.visits.get(id)
    if (!visit || visit.date !== day || id === ids.cut || id === ids.nothing) continue
    if (visit.purpose === 'nothing' || (visit.purpose === 'cut' && stemsIn(visit) > 0)) others.push({ person: visit.person, stems: stemsIn(visit) })
  }
  const cut = farm.visits.get(ids.cut)
  const stems = cut ? stemsIn(cut) : 0
  const graded = cut ? stems - (cut.counts.find(({ grade, length }) => plantCell(grade, length) === untold)?.stems ?? 0) : 0
  const known = farm.plants.get(plant)
  const counted = known !== undefined && countedOn(known, seasonOf(farm.calendar, day), day)
  return { counted, own: stems > 0 ? stems : farm.visits.has(ids.nothing) ? 0 : undefined, graded, others }
}

/** The cell of a number that tells neither grade nor length. */
const untold = plantCell('', untoldLength)

function ownIDs(notebook: Notebook, plant: PlantID, day: Day): { readonly cut: VisitID; readonly nothing: VisitID } {
  return { cut: notebook.visitID(plant, day, 'cut'), nothing: notebook.visitID(plant, day, 'nothing') }
}

/** Why what was typed is not recorded: no whole number, too many, or fewer than are recorded by grade. */
export type Wrong = 'number' | 'most' | 'graded' | 'uncounted'

/** Reads a field: undefined where it is blank. */
export function typed(text: string, line: Pick<Line, 'graded' | 'counted'>): { readonly number: number | undefined } | { readonly wrong: Wrong } {
  const digits = text.trim()
  if (digits === '') return line.graded > 0 ? { wrong: 'graded' } : { number: undefined }
  if (!/^\d+$/.test(digits)) return { wrong: 'number' }
  const number = Number(digits)
  if (number > mostStems) return { wrong: 'most' }
  if (number < line.graded) return { wrong: 'graded' }
  return number === 0 && !line.counted ? { wrong: 'uncounted' } : { number }
}

/**
 * The facts that bring a plant's own number of a day to what was typed: undefined for none, 0 for nothing
 * here. To be asked for in turn, since it goes by what stands then.
 */
export function factsForTyped(notebook: Notebook, plant: PlantID, day: Day, number: number | undefined): readonly Fact[] {
  const farm = notebook.farm.peek()
  const { cut, nothing } = ownIDs(notebook, plant, day)
  return [
    ...stemFacts(notebook, plant, day, cut, number ?? 0),
    ...(number === 0 ? [...visitTold(notebook, plant, day, nothing, 'nothing'), withdrawnFact('visit', nothing, false)] : []),
    ...(number !== 0 && farm.visits.has(nothing) ? [withdrawnFact('visit', nothing, true)] : []),
  ]
}

function stemFacts(notebook: Notebook, plant: PlantID, day: Day, cut: VisitID, wanted: number): Fact[] {
  const visit = notebook.farm.peek().visits.get(cut)
  if (!visit) return wanted === 0 ? [] : [...visitTold(notebook, plant, day, cut, 'cut'), countFact('field', cut, untold, wanted)]
  const graded = stemsIn(visit) - Math.max(0, notebook.cell(cut, untold).total)
  const fact = factForTotal(notebook, visit, untold, wanted - graded)
  return fact ? [fact] : []
}

function visitTold(notebook: Notebook, plant: PlantID, day: Day, id: VisitID, purpose: 'cut' | 'nothing'): Fact[] {
  const farm = notebook.farm.peek()
  if (farm.visits.has(id)) return []
  const own = farm.plants.get(plant)
  const bed = (own && bedOn(farm, own, day)) ?? ''
  const flush = flushOf(bed === '' ? undefined : farm.beds.get(bed), seasonOf(farm.calendar, day), day)
  return visitFacts({
    id, plant, bed, date: day, purpose, person: notebook.person.peek(), flush, toOrder: false, planting: '', age: 0, stage: '', counts: [],
  })
}
