// What was done last to orders, buyers and prices, and how it is taken back: each deed is one operation.

import { signal } from '@preact/signals'
import { type Deed, nothing } from '../crop/deed'
import type { Sales } from '../crop/sale_nouns'
import type { Notebook } from '../sync/notebook'
import { announce } from '../ui/announce'

interface Done extends Deed {
  readonly said: string
  /** Pages that were opened since. */
  readonly pages: number
}

export const lastDone = signal<Done | undefined>(undefined)

export function doDeed(notebook: Notebook, deed: Deed, said: string): Promise<void> {
  return doPlanned(notebook, () => deed, said)
}

let storing: { readonly said: string; readonly done: Promise<void> } | undefined

/** Plans from what is sold as it stands when its turn to be stored comes: something may have been packed since it was asked for. */
export function doPlanned(notebook: Notebook, plan: (sales: Sales) => Deed, said: string): Promise<void> {
  // A second tap, before the first is seen to be done, would plan it once more, with nothing left to be taken back.
  if (storing?.said === said) return storing.done
  const done = store(notebook, plan, said).finally(() => { if (storing?.done === done) storing = undefined })
  storing = { said, done }
  return done
}

async function store(notebook: Notebook, plan: (sales: Sales) => Deed, said: string): Promise<void> {
  let deed = nothing
  await notebook.recordInTurn(() => {
    deed = plan(notebook.farm.peek().sales)
    return { facts: deed.facts, alongside: {} }
  })
  lastDone.value = { ...deed, said, pages: 0 }
  announce(said)
}

export async function undoLast(notebook: Notebook, said: string): Promise<void> {
  const done = lastDone.peek()
  if (!done) return
  await notebook.record(done.undo)
  lastDone.value = undefined
  announce(said)
}

/** A page was opened: a deed is told on the page that it leads to, and not longer. */
export function pageOpened(): void {
  const done = lastDone.peek()
  if (done) lastDone.value = done.pages === 0 ? { ...done, pages: 1 } : undefined
}
