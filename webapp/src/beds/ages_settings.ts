// How Ages is looked at, kept on this device alone: which sections are open, and per which plant.

import { signal } from '@preact/signals'
import type { Notebook } from '../sync/notebook'
import { type Per, pers } from './ages_per'

interface AgesSettings {
  /** Names of sections that are open. */
  readonly open: readonly string[]
  readonly per: Per
}

const kept = 'ages.settings'
const atFirst: AgesSettings = { open: [], per: 'alive' }

export const agesSettings = signal<AgesSettings>(atFirst)

export function readAgesSettings(notebook: Notebook): void {
  const { open, per } = { ...atFirst, ...notebook.kept<Partial<AgesSettings>>(kept) }
  agesSettings.value = { open, per: pers.includes(per) ? per : atFirst.per }
}

export function setPer(notebook: Notebook, per: Per): Promise<void> {
  return keep(notebook, { ...agesSettings.peek(), per })
}

export function setOpen(notebook: Notebook, section: string, isOpen: boolean): Promise<void> {
  const before = agesSettings.peek()
  if (before.open.includes(section) === isOpen) return Promise.resolve()
  const open = before.open.filter((other) => other !== section)
  return keep(notebook, { ...before, open: isOpen ? [...open, section] : open })
}

function keep(notebook: Notebook, settings: AgesSettings): Promise<void> {
  agesSettings.value = settings
  return notebook.keep(kept, settings)
}
