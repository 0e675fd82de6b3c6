// What the shed's model says of each crop.

import type { Day, PlantID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { isReport, type PlantWorth, type Report } from './ages_report'
import type { PlanTable } from './plan_table'
import { type HowNew, ShedAnswer } from '../ui/shed_answer'

export interface AgesAnswer {
  /** The farm's newest arrival number that went in. */
  readonly arrival: number
  readonly asof: Day
  readonly species: readonly SpeciesAges[]
}

export interface SpeciesAges {
  readonly species: string
  readonly report: Report
  /** For the counting plan; missing in what a shed of an earlier version said. */
  readonly plan?: PlanTable
}

const shed = new ShedAnswer<AgesAnswer>({ path: '/api/ages', kept: 'ages.answer', isAnswer })

export const { answer, fetching } = shed

/** Shows what the device has. */
export function readAges(notebook: Notebook): void {
  shed.read(notebook)
}

/** Shows what the device has and, while the link is live, asks the shed anew. */
export function refreshAges(notebook: Notebook, howNew?: HowNew): Promise<void> {
  return shed.refresh(notebook, howNew)
}

/** What the last answer says of one plant. */
export function worthOf(plant: PlantID): PlantWorth | undefined {
  for (const { report } of answer.value?.species ?? []) {
    const found = report.plants?.find((one) => one.plant === plant)
    if (found) return found
  }
  return undefined
}

/** The crop chosen; else the first that has a name, since of one without little was told. */
export function cropShown<T extends { readonly species: string }>(crops: readonly T[], chosen: string | undefined): T | undefined {
  return crops.find(({ species }) => species === chosen) ?? crops.find(({ species }) => species !== '') ?? crops[0]
}

export function isAnswer(value: unknown): value is AgesAnswer {
  if (typeof value !== 'object' || value === null || !('species' in value && 'asof' in value && 'arrival' in value)) return false
  const { species, asof, arrival } = value
  return typeof asof === 'string' && typeof arrival === 'number' && Array.isArray(species) && species.every(isSpecies)
}

function isSpecies(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'species' in value && 'report' in value &&
    typeof value.species === 'string' && isReport(value.report)
}
