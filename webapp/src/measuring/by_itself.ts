// Whether the camera takes the picture by itself: this device's choice.

import { signal } from '@preact/signals'
import type { Notebook } from '../sync/notebook'

const kept = 'measuring.by_itself'

export const byItself = signal(true)

export function readByItself(notebook: Notebook): void {
  byItself.value = notebook.kept<boolean>(kept) ?? true
}

/** Holds until the page is closed also where it cannot be kept. */
export function setByItself(notebook: Notebook, on: boolean): void {
  byItself.value = on
  notebook.keep(kept, on).catch((reason: unknown) => console.error('keeping how pictures are taken', reason))
}
