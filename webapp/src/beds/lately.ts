// What was planted or taken away last on this device, so that it can be undone for a while.

import type { Bed, BedID, Day, Farm } from '../crop/nouns'
import { type Planted, undoPlanting, wasUsed } from '../crop/planting_out'
import { withdrawnFact } from '../crop/facts'
import type { Notebook } from '../sync/notebook'

export interface PlantedLately extends Planted {
  readonly plants: number
  readonly day: Day
}

interface BedGone {
  readonly id: BedID
  readonly name: string
  readonly day: Day
}

const kept = { planted: 'beds.planted', gone: 'beds.gone' } as const

/** To be kept in the transaction that plants. */
export function keptPlanted(planted: PlantedLately): Readonly<Record<string, unknown>> {
  return { [kept.planted]: planted }
}

/** The last planting, while the farm has it. */
export function plantedLately(notebook: Notebook, farm: Farm): PlantedLately | undefined {
  const planted = notebook.kept<PlantedLately | null>(kept.planted) ?? undefined
  return planted && farm.plantings.has(planted.planting) ? planted : undefined
}

/** Whether a planting can be undone: on its day, with nothing come of its plants and none to it since. */
export function undoable(farm: Farm, planted: PlantedLately, today: Day): boolean {
  if (planted.day !== today || wasUsed(farm, planted.planting)) return false
  return [...farm.plants.values()].filter(({ planting }) => planting === planted.planting).length === planted.plants
}

/** Takes the last planting back, as one operation. */
export async function undoPlanted(notebook: Notebook, planted: PlantedLately): Promise<void> {
  await notebook.recordInTurn(() => ({ facts: undoPlanting(notebook.farm.peek(), planted), alongside: { [kept.planted]: null } }))
}

export async function takeBedAway(notebook: Notebook, { id, name }: Bed, day: Day): Promise<void> {
  await notebook.recordInTurn(() => ({ facts: [withdrawnFact('bed', id, true)], alongside: { [kept.gone]: { id, name, day } satisfies BedGone } }))
}

/** The bed taken away last, on the same day and while it is gone. */
export function bedGone(notebook: Notebook, farm: Farm, today: Day): BedGone | undefined {
  const gone = notebook.kept<BedGone | null>(kept.gone) ?? undefined
  return gone && gone.day === today && !farm.beds.has(gone.id) ? gone : undefined
}

export async function bringBedBack(notebook: Notebook, { id }: BedGone): Promise<void> {
  await notebook.recordInTurn(() => ({ facts: [withdrawnFact('bed', id, false)], alongside: { [kept.gone]: null } }))
}
