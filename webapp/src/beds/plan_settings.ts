// What the grower asked of the counting plan, kept on this device alone: it is a question and no record.

import { signal } from '@preact/signals'
import type { Season } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'

export interface PlanSettings {
  /** What she tells, the other being worked out. */
  readonly by: 'minutes' | 'stems'
  /** What counting may cost at one cut. */
  readonly minutes: number
  /** Half the width wanted of the interval of a mean, in stems. */
  readonly stems: number
  readonly assurance: number
  /** What one counted plant costs at one cut. */
  readonly seconds: number
  readonly cuts: number
  /** Half-widths that were hoped for when plants were marked, by species, season and age. */
  readonly aims: Readonly<Record<string, number>>
}

/**
 * Common practice, no source: a handful is one number and one tap, with the step to the next plant some
 * eight seconds; a flush of four to five weeks cut every second day has some sixteen cuts.
 */
const practice: PlanSettings = { by: 'minutes', minutes: 10, stems: 3, assurance: 0.8, seconds: 8, cuts: 16, aims: {} }

const kept = 'counting.plan'

export const planSettings = signal<PlanSettings>(practice)

export function readPlanSettings(notebook: Notebook): void {
  planSettings.value = { ...practice, ...notebook.kept<Partial<PlanSettings>>(kept) }
}

export function keepPlanSettings(notebook: Notebook, change: Partial<PlanSettings>): Promise<void> {
  planSettings.value = { ...planSettings.peek(), ...change }
  return notebook.keep(kept, planSettings.peek())
}

export function aimKey(species: string, season: Season, age: number): string {
  return `${species} ${season} ${age}`
}

/** Plants that so many minutes a cut are enough for. */
export function plantsIn(minutes: number, { seconds }: Pick<PlanSettings, 'seconds'>): number {
  return Math.floor((minutes * 60) / seconds)
}

/** Minutes a cut, begun ones whole. */
export function minutesFor(plants: number, { seconds }: Pick<PlanSettings, 'seconds'>): number {
  return Math.ceil((plants * seconds) / 60)
}
