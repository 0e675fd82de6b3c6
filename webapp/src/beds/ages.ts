// What the shed's model says of each crop: fetched while the link is live, kept on the device, and read
// offline with its date.

import { signal } from '@preact/signals'
import type { Day, PlantID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { isReport, type PlantWorth, type Report } from './ages_report'
import type { PlanTable } from './plan_table'

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

const kept = 'ages.answer'
/** Milliseconds after which the shed is taken not to answer: a fit takes a few seconds. */
const longestWait = 60_000

export const answer = signal<AgesAnswer | undefined>(undefined)
export const fetching = signal<'no' | 'yes' | 'failed'>('no')

/** Shows what the device has. What an earlier version of the app kept there is as good as nothing. */
export function readAges(notebook: Notebook): void {
  const found = notebook.kept<unknown>(kept)
  if (answer.peek() === undefined && isAnswer(found)) answer.value = found
}

/** Shows what the device has and, while the link is live, asks the shed anew. */
export async function refreshAges(notebook: Notebook): Promise<void> {
  readAges(notebook)
  const link = notebook.sync.peek().link
  if (fetching.peek() === 'yes' || (link !== 'live' && link !== 'catching_up')) return
  fetching.value = 'yes'
  try {
    const response = await fetch('/api/ages', { signal: AbortSignal.timeout(longestWait) })
    if (!response.ok) throw new Error(`the shed answered ${response.status}`)
    const fresh: unknown = await response.json()
    if (!isAnswer(fresh)) throw new Error('the shed answered in an unknown form')
    answer.value = fresh
    await notebook.keep(kept, fresh)
    fetching.value = 'no'
  } catch {
    fetching.value = 'failed' // the last answer stands, and the page says so
  }
}

/** What the last answer says of one plant. */
export function worthOf(plant: PlantID): PlantWorth | undefined {
  for (const { report } of answer.value?.species ?? []) {
    const found = report.plants?.find((one) => one.plant === plant)
    if (found) return found
  }
  return undefined
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
