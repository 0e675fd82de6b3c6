// The walk of what is to be divided, lifted and replaced: which plant is next, and what this device put off.

import { signal } from '@preact/signals'
import type { ToDo } from '../crop/intents'
import type { PlantID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'

const kept = 'row.divide.later'
const walks = new WeakMap<Notebook, DivideLater>()

/** Plants put off, on this device alone. */
export class DivideLater {
  private readonly now

  constructor(private readonly notebook: Notebook) {
    this.now = signal<readonly PlantID[]>(notebook.kept<readonly PlantID[]>(kept) ?? [])
  }

  static of(notebook: Notebook): DivideLater {
    const one = walks.get(notebook) ?? new DivideLater(notebook)
    walks.set(notebook, one)
    return one
  }

  has(plant: PlantID): boolean {
    return this.now.value.includes(plant)
  }

  /** Puts a plant off, or takes that back; it holds until the page is closed where it cannot be kept. */
  async set(plant: PlantID, later: boolean): Promise<void> {
    const others = this.now.peek().filter((one) => one !== plant)
    this.now.value = later ? [...others, plant] : others
    await this.notebook.keep(kept, this.now.peek())
  }
}

/** What is shown open: the one asked for, else the first that is neither done nor put off. */
export function openOf(todo: readonly ToDo[], asked: PlantID | '' | undefined, isLater: (plant: PlantID) => boolean): PlantID | '' {
  if (asked === '' || todo.some(({ plant }) => plant.id === asked)) return asked ?? ''
  return todo.find(({ plant, is }) => is === 'open' && !isLater(plant.id))?.plant.id ?? ''
}

export interface DivideBed {
  readonly bed: ToDo['bed']
  readonly todo: readonly ToDo[]
}

/** Beds in the order of the list. */
export function bedsOf(todo: readonly ToDo[]): DivideBed[] {
  return [...new Set(todo.map(({ bed }) => bed))].map((bed) => ({ bed, todo: todo.filter((one) => one.bed === bed) }))
}
