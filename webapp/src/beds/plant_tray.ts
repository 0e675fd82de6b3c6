// Planting what the screen shows, in one transaction with the codes that it takes: all of it or nothing.

import type { Day, PlantingID } from '../crop/nouns'
import { plantOut } from '../crop/planting_out'
import type { Notebook, Said } from '../sync/notebook'
import { codesLeft, mintCodes } from './codes'
import { keptPlanted } from './lately'
import { readTray, type TrayForm, type TrayPlan, trayOf } from './tray'

/** Why nothing was planted: the bed is not as it was shown, or too few codes are left. */
export class NotPlanted extends Error {
  readonly reason: 'changed' | 'codes'
  /** Codes that are left. */
  readonly left: number
  constructor(reason: NotPlanted['reason'], left: number) {
    super(`planting a tray: ${reason}`)
    this.name = 'NotPlanted'
    this.reason = reason
    this.left = left
  }
}

/** Plants the tray; rejects with NotPlanted or a RecordError, and then nothing of it is kept. */
export async function plantTray(notebook: Notebook, form: TrayForm, shown: TrayPlan, today: Day, newID: () => string): Promise<void> {
  await notebook.recordInTurn(() => sayTray(notebook, form, shown, today, newID))
}

/** To be asked in turn, when what other devices planted meanwhile is known. */
function sayTray(notebook: Notebook, form: TrayForm, shown: TrayPlan, today: Day, newID: () => string): Said {
  const farm = notebook.farm.peek()
  const plan = readTray(form, farm, today)
  if (plan.problems.length > 0 || JSON.stringify(plan.places) !== JSON.stringify(shown.places)) throw new NotPlanted('changed', codesLeft(notebook))
  const minted = mintCodes(notebook, farm, plan.places.length)
  if (!minted) throw new NotPlanted('codes', codesLeft(notebook))
  const tray = trayOf(plan, newID() as PlantingID, minted.codes, newID)
  const kept = keptPlanted({
    planting: tray.planting.id, plants: plan.places.length, day: today,
    newBed: farm.beds.has(plan.bed.id) ? '' : plan.bed.id, newStock: farm.stocks.has(plan.stock.id) ? '' : plan.stock.id,
  })
  return { facts: plantOut(farm, tray), alongside: { ...minted.alongside, ...kept } }
}
