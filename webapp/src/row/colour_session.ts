// A colour session through one bed: the card, the reference plants, then those planned. Where it stands is kept on
// this device, so that it goes on after a call, a shower or an empty battery.

import { signal } from '@preact/signals'
import type { BedID, Day, PlantID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { isDone, nextWaiting } from './colour_order'

export type Step = 'card' | 'references' | 'plants' | 'end'

export interface SessionState {
  readonly day: Day
  readonly step: Step
  /** Where it stands; '' at the card and at the end. */
  readonly at: PlantID | ''
  readonly references: readonly PlantID[]
  readonly plants: readonly PlantID[]
}

const sessions = new WeakMap<Notebook, ColourSession>()

export class ColourSession {
  /** Why where it stands was not kept; undefined once it was. It holds until the page is closed. */
  readonly failure = signal<unknown>(undefined)
  /** Those changed since the notebook was opened; the others are as it kept them. */
  private readonly changed = signal<ReadonlyMap<BedID, SessionState>>(new Map())

  constructor(private readonly notebook: Notebook) {}

  /** The one of a notebook. */
  static of(notebook: Notebook): ColourSession {
    const session = sessions.get(notebook) ?? new ColourSession(notebook)
    sessions.set(notebook, session)
    return session
  }

  /** Today's session of a bed; undefined where none was begun. */
  state(bed: BedID): SessionState | undefined {
    const state = this.changed.value.get(bed) ?? this.notebook.kept<SessionState>(nameOf(bed))
    return state?.day === today.value ? state : undefined
  }

  begin(bed: BedID, references: readonly PlantID[], plants: readonly PlantID[]): void {
    this.set(bed, { day: today.peek(), step: 'card', at: '', references, plants })
  }

  /** On from the card, or from a plant that was photographed or skipped, to the next that waits. */
  next(bed: BedID): void {
    const state = this.state(bed)
    if (state) this.set(bed, this.behind(state))
  }

  /** To a plant, planned or not: one that was not is led to now, and the session goes on from there. */
  goTo(bed: BedID, plant: PlantID): void {
    const state = this.state(bed)
    if (!state) return
    const step = state.references.includes(plant) ? 'references' : 'plants'
    this.set(bed, { ...state, step, at: plant, plants: step === 'plants' ? withPlant(state, plant) : state.plants })
  }

  /** Back to the card, to look at another one. */
  toCard(bed: BedID): void {
    const state = this.state(bed)
    if (state) this.set(bed, { ...state, step: 'card', at: '' })
  }

  private behind(state: SessionState): SessionState {
    const done = (plant: PlantID) => isDone(this.notebook.farm.peek(), plant, state.day)
    const { step, references, plants } = state
    const reference = step === 'plants' ? '' : nextWaiting(references, step === 'card' ? '' : state.at, done)
    if (reference !== '') return { ...state, step: 'references', at: reference }
    const at = nextWaiting(plants, step === 'plants' ? state.at : '', done)
    return { ...state, step: at === '' ? 'end' : 'plants', at }
  }

  private set(bed: BedID, state: SessionState): void {
    this.changed.value = new Map(this.changed.peek()).set(bed, state)
    this.notebook.keep(nameOf(bed), state).then(() => { this.failure.value = undefined }, (reason: unknown) => { this.failure.value = reason })
  }
}

/** Behind where the session stands, so that it goes on from there to those that were planned next. */
function withPlant({ plants, at }: SessionState, plant: PlantID): readonly PlantID[] {
  if (plants.includes(plant)) return plants
  const behind = at === '' ? 0 : plants.indexOf(at) + 1
  return plants.toSpliced(behind, 0, plant)
}

function nameOf(bed: BedID): string {
  return `row.measure.${bed}`
}
