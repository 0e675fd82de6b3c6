// What the shed did not keep, put together as a person recorded it: by visit, with plant or bed, day
// and numbers.

import { parseCell } from '../crop/cells'
import type { BedID, Day, Farm, PlantID, Visit, VisitID } from '../crop/nouns'
import type { Refused } from '../sync/notebook'
import { cellName } from '../ui/cells'

export interface RefusedStep {
  /** Of its own for every visit, and for every other entity. */
  readonly key: string
  /** The plant's code or the bed's name; '' where this phone knows none. */
  readonly subject: string
  /** Undefined where it is no visit. */
  readonly day: Day | '' | undefined
  readonly counts: readonly RefusedCount[]
  /** The reasons, each once. */
  readonly codes: readonly string[]
}

export interface RefusedCount {
  /** "extra, 50 cm" */
  readonly name: string
  readonly n: number | undefined
}

/** Says only that another change of the same step was refused. */
const dragged = 'operation'

export function refusedSteps(refused: readonly Refused[], farm: Farm): RefusedStep[] {
  const groups = new Map<string, Refused[]>()
  for (const one of refused) {
    const key = `${one.type} ${one.id}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups].map(([key, changes]) => ({ key, ...aboutOf(changes, farm), codes: codesOf(changes) }))
}

function codesOf(changes: readonly Refused[]): string[] {
  const codes = [...new Set(changes.map(({ code }) => code))]
  const own = codes.filter((code) => code !== dragged)
  return own.length > 0 ? own : codes
}

function aboutOf(changes: readonly Refused[], farm: Farm): Omit<RefusedStep, 'key' | 'codes'> {
  const { type, id } = changes[0]!
  if (type !== 'visit') return { subject: nameOf(type, id, farm), day: undefined, counts: [] }
  // A visit that was refused whole is not in the farm: then the changes themselves tell of it.
  const visit = farm.visits.get(id as VisitID)
  const told = (field: 'plant' | 'bed' | 'date') => textOf(changes, field) || visit?.[field] || ''
  return {
    subject: nameOf('plant', told('plant'), farm) || nameOf('bed', told('bed'), farm),
    day: told('date') as Visit['date'] | '',
    counts: changes.flatMap((change) => countOf(change, farm)),
  }
}

function nameOf(type: string, id: string, farm: Farm): string {
  if (type === 'plant') return farm.plants.get(id as PlantID)?.code ?? ''
  return type === 'bed' ? farm.beds.get(id as BedID)?.name ?? '' : ''
}

function textOf(changes: readonly Refused[], field: string): string {
  const value = changes.find((change) => change.field === field)?.value
  return typeof value === 'string' ? value : ''
}

function countOf({ field, value }: Refused, farm: Farm): RefusedCount[] {
  const cell = parseCell(field)
  return cell ? [{ name: cellName(farm, cell), n: typeof value === 'number' ? value : undefined }] : []
}
