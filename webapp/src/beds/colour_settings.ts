// How the stand's colour is looked at, kept on this device alone: which drawing, which classes are wanted, and in which
// colours beds are drawn.

import { signal } from '@preact/signals'
import type { ColourID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { type View, views } from './colour_plane'

interface ColourSettings {
  readonly view: View
  /** Classes that buyers ask for; with none every class will do. */
  readonly wanted: readonly ColourID[]
  /** Whether beds are drawn in measured colours, or in those of classes. */
  readonly measured: boolean
}

const kept = 'colour.settings'
const atFirst: ColourSettings = { view: 'hue', wanted: [], measured: false }

export const colourSettings = signal<ColourSettings>(atFirst)

export function readColourSettings(notebook: Notebook): void {
  const { view, wanted, measured } = { ...atFirst, ...notebook.kept<Partial<ColourSettings>>(kept) }
  colourSettings.value = { view: views.includes(view) ? view : atFirst.view, wanted, measured }
}

export function setView(notebook: Notebook, view: View): Promise<void> {
  return keep(notebook, { ...colourSettings.peek(), view })
}

export function setWanted(notebook: Notebook, colour: ColourID, on: boolean): Promise<void> {
  const others = colourSettings.peek().wanted.filter((one) => one !== colour)
  return keep(notebook, { ...colourSettings.peek(), wanted: on ? [...others, colour] : others })
}

export function setMeasured(notebook: Notebook, measured: boolean): Promise<void> {
  return keep(notebook, { ...colourSettings.peek(), measured })
}

function keep(notebook: Notebook, settings: ColourSettings): Promise<void> {
  colourSettings.value = settings
  return notebook.keep(kept, settings)
}
