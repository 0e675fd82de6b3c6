// What the shed's model says of a plant's stems and grades by its season in the ground: fetched
// while the link is live, kept on the device, and read offline with its date.

import { signal } from '@preact/signals'
import type { Day, Flush, Grade, PlantID, Season } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
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

export interface Report {
  /** Coverage of every interval, such as 0.9. */
  readonly level: number
  readonly ages: readonly Age[]
  readonly notes: readonly Note[]
}

export interface Age {
  readonly age: number
  readonly plant_seasons: number
  readonly zero: number
  readonly stems: Stems
  readonly stems_total: number
  readonly grades: readonly GradeCell[]
  readonly plants: readonly Dot[]
}

export interface Stems {
  readonly mean: number
  readonly lo: number
  readonly hi: number
  readonly size: number
  readonly new_lo: number
  readonly new_hi: number
}

export interface GradeCell {
  readonly flush: Flush | ''
  readonly stems: number
  readonly plants: number
  readonly p: ByGrade
  readonly lo: ByGrade
  readonly hi: ByGrade
}

export type ByGrade = Readonly<Record<Grade, number>>

export interface Dot {
  readonly plant: PlantID
  readonly code: string
  readonly season: Season
  readonly stems: number
  readonly open: boolean
}

export interface Note {
  readonly code: string
  readonly args: Readonly<Record<string, string>>
  readonly text: string
}

const kept = 'ages.answer'
/** Milliseconds after which the shed is taken not to answer: a fit takes a second or two. */
const longestWait = 20_000

export const answer = signal<AgesAnswer | undefined>(undefined)
export const fetching = signal<'no' | 'yes' | 'failed'>('no')

/** Shows what the device has and, while the link is live, asks the shed anew. */
export async function refreshAges(notebook: Notebook): Promise<void> {
  answer.value ??= notebook.kept<AgesAnswer>(kept)
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

function isAnswer(value: unknown): value is AgesAnswer {
  return typeof value === 'object' && value !== null && 'species' in value && Array.isArray(value.species)
}
