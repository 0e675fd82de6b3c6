// The first walk: ten minutes through the app, step by step. How far it is stays on this device; it can be left and taken up
// again, each step skipped, and all of it begun anew.

import { batch, effect, signal } from '@preact/signals'
import type { Day, VisitID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { route } from '../ui/route'
import { today } from '../ui/today'
import { type Deeds, deedsOn, isDone, type Step, stepsFor } from './walk_steps'

export interface Progress {
  /** 'left' for later; 'over' once it was ended, or was never wanted. */
  readonly state: 'going' | 'left' | 'over'
  /** The day that `before` was read on. */
  readonly day: Day
  /** What this device had done that day before. */
  readonly before: Deeds
  /** Done, or skipped, in that order. */
  readonly done: readonly Step[]
  readonly skipped: readonly Step[]
}

const kept = 'start.walk'
const nothing: Deeds = { plants: 0, closed: 0, asks: 0, beds: 0 }
const walks = new WeakMap<Notebook, FirstWalk>()

export class FirstWalk {
  /** undefined where nobody chose yet. */
  readonly progress = signal<Progress | undefined>(undefined)
  /** Why the last step was not kept. */
  readonly failure = signal<unknown>(undefined)
  private readonly notebook: Notebook

  constructor(notebook: Notebook) {
    this.notebook = notebook
    this.progress.value = notebook.kept<Progress>(kept)
  }

  /** The one of a notebook. */
  static of(notebook: Notebook): FirstWalk {
    const walk = walks.get(notebook) ?? new FirstWalk(notebook)
    walks.set(notebook, walk)
    return walk
  }

  get steps(): readonly Step[] {
    return stepsFor(this.notebook.member.value?.role ?? 'crew', this.notebook.farm.value.madeUp)
  }

  /** The step whose turn it is; undefined when all are done. */
  get step(): Step | undefined {
    const past = this.past
    return this.steps.find((step) => !past.includes(step))
  }

  /** The step that was done last, to be told so. */
  get doneLast(): Step | undefined {
    return this.progress.value?.done.at(-1)
  }

  private get past(): readonly Step[] {
    const { done = [], skipped = [] } = this.progress.value ?? {}
    return [...done, ...skipped]
  }

  /** Whether it is offered: on the made-up farm, and to the owner of one on which nothing was counted yet. */
  get isOffered(): boolean {
    if (this.progress.value !== undefined || this.steps.length === 0) return false
    const { farm, member } = this.notebook
    return farm.value.madeUp || (member.value?.role === 'owner' && farm.value.visits.size === 0)
  }

  begin(): void {
    this.tell({ state: 'going', day: today.peek(), before: this.deeds(), done: [], skipped: [] })
  }

  /** For later. */
  leave(): void {
    this.change({ state: 'left' })
  }

  resume(): void {
    this.change({ state: 'going' })
  }

  /** Ends it, or says that it is not wanted. */
  end(): void {
    this.tell({ day: today.peek(), before: nothing, done: [], skipped: [], ...this.progress.peek(), state: 'over' })
  }

  skip(step: Step): void {
    const now = this.progress.peek()
    if (now) this.change({ skipped: [...now.skipped, step] })
  }

  /** Plants counted since it began. */
  get counted(): number {
    const now = this.progress.value
    return now ? this.deeds().plants - now.before.plants : 0
  }

  /** Notices by itself what is done, until it is told to stop. */
  follow(): () => void {
    return effect(() => this.notice())
  }

  private notice(): void {
    const now = this.progress.value
    if (now?.state !== 'going') return
    const [at, deeds, past, turn] = [route.value, this.deeds(), this.past, this.step]
    if (now.day !== today.value) return this.change({ day: today.value, before: { ...now.before, plants: 0, closed: 0 } })
    const done = this.steps.filter((step) => !past.includes(step) && isDone(step, now.before, deeds, step === turn, at))
    if (done.length > 0) this.change({ done: [...now.done, ...done] })
  }

  private deeds(): Deeds {
    return deedsOn(this.notebook.farm.value, today.value, ({ id }) => this.notebook.isFromHere(id as VisitID))
  }

  private change(part: Partial<Progress>): void {
    const now = this.progress.peek()
    if (now) this.tell({ ...now, ...part })
  }

  private tell(progress: Progress): void {
    batch(() => {
      this.progress.value = progress
      this.failure.value = undefined
    })
    this.notebook.keep(kept, progress).catch((reason: unknown) => { this.failure.value = reason })
  }
}
