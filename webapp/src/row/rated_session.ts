// A rated walk through one bed: where it stands, and what a tap stores. What is shown was stored before.

import { batch, signal } from '@preact/signals'
import { raiseFacts } from '../crop/flags'
import { markFacts } from '../crop/facts'
import { formatFlag } from '../crop/marks'
import type { BedID, Day, FlagKind, Plant, PlantID, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import type { Notebook, Said } from '../sync/notebook'
import { ChangedSince } from '../ui/taps'
import { today } from '../ui/today'
import { type RatedAction, type RatedJournal, type Rating, ratedOrder, withAction, withoutAction } from './rated_walk'
import { nextUnseen } from './walk'

/** Where a rated walk stands; `at` is empty at its end. */
export interface RatedPosition {
  readonly bed: BedID
  readonly season: Season
  readonly at: PlantID | ''
}

const sessions = new WeakMap<Notebook, Map<string, unknown>>()

export class RatedSession<T extends string> {
  readonly position = signal<RatedPosition | undefined>(undefined)
  readonly journal = signal<RatedJournal | undefined>(undefined)
  /** Why the last record was not kept; undefined once one was. */
  readonly failure = signal<unknown>(undefined)
  /** Called after each record that was stored. */
  onStored: (action: RatedAction, takenBack: boolean) => void = () => {}

  private readonly kept: { readonly position: string; readonly journal: string }
  /** Plants that a rating being stored will leave: a finger that trembles must not rate there twice. */
  private readonly beingLeft = new Set<PlantID>()
  private goingBack = false
  /** What waits for the disk: what is kept with one record stands on the one before. */
  private line: Promise<void> = Promise.resolve()

  constructor(private readonly notebook: Notebook, readonly rating: Rating<T>) {
    this.kept = { position: `row.${rating.name}.position`, journal: `row.${rating.name}.journal` }
    this.position.value = notebook.kept<RatedPosition>(this.kept.position)
    this.journal.value = notebook.kept<RatedJournal>(this.kept.journal)
  }

  /** The one session of a notebook and a kind of walk. */
  static of<T extends string>(notebook: Notebook, rating: Rating<T>): RatedSession<T> {
    const ofNotebook = sessions.get(notebook) ?? new Map<string, unknown>()
    sessions.set(notebook, ofNotebook)
    const session = (ofNotebook.get(rating.name) as RatedSession<T> | undefined) ?? new RatedSession(notebook, rating)
    ofNotebook.set(rating.name, session)
    return session
  }

  season(): Season {
    return seasonOf(this.notebook.farm.value.calendar, today.value)
  }

  order(bed: BedID): Plant[] {
    return ratedOrder(this.notebook.farm.value, this.rating, bed, this.season(), today.value)
  }

  seen(plant: PlantID): boolean {
    const known = this.notebook.farm.value.plants.get(plant)
    return known !== undefined && this.rating.found(known, this.season()) !== undefined
  }

  /** Goes on where the bed's walk of this season stood, else at its first plant without a rating. */
  enter(bed: BedID): void {
    const position = this.position.peek()
    const order = this.order(bed)
    const goesOn = position?.bed === bed && position.season === this.season() && order.some(({ id }) => id === position.at)
    if (!goesOn) this.moveTo({ bed, season: this.season(), at: nextUnseen(order, '', (id) => this.seen(id))?.id ?? '' })
  }

  goTo(at: PlantID | ''): void {
    const position = this.position.peek()
    if (position) this.moveTo({ ...position, at })
  }

  /** On to the next plant without a rating, or to the end of the walk. */
  next(): void {
    const position = this.position.peek()
    if (position) this.moveTo(this.behind(position))
  }

  /** Rates the plant, and on to the next; once, however often it is tapped meanwhile. */
  async rate(plant: PlantID, what: T, earlier = ''): Promise<void> {
    if (this.beingLeft.has(plant)) return
    this.beingLeft.add(plant)
    await this.store(plant, (before, day) => ({
      facts: this.rating.say(before, this.season(), day, what),
      action: { kind: 'rating', plant, what, day, earlier, back: this.rating.unsay(before, this.season(), day, what) },
    }))
    this.beingLeft.delete(plant)
  }

  /** Raises a flag at a plant of the walk, as an action that can be taken back. */
  async flag(plant: PlantID, kind: FlagKind): Promise<void> {
    await this.store(plant, (_, day) => {
      const by = this.notebook.person.peek()
      return {
        facts: raiseFacts(plant, kind, day, by),
        action: { kind: 'flag', plant, what: kind, day, earlier: '', back: markFacts(plant, 'flags', formatFlag({ kind, day, by }), false) },
      }
    })
  }

  /** The action that `takeBack` would undo now. */
  last(): RatedAction | undefined {
    const journal = this.journal.value
    return journal?.day === today.value ? journal.actions.at(-1) : undefined
  }

  async takeBack(): Promise<void> {
    const action = this.last()
    if (!action || this.goingBack) return
    this.goingBack = true
    const without = () => withoutAction(this.journal.peek(), action)
    try {
      await this.inTurn(() => {
        if (!this.standsStill(action)) throw new ChangedSince()
        return { facts: action.back, alongside: { [this.kept.journal]: without() } }
      }, () => { this.journal.value = without() })
      this.onStored(action, true)
      this.goTo(action.plant)
    } catch (reason) {
      // It can never be taken back now, and must not stand before those that can.
      if (reason instanceof ChangedSince) this.journal.value = without()
      this.failure.value = reason
    } finally {
      this.goingBack = false
    }
  }

  private async store(plant: PlantID, say: (before: Plant, day: Day) => { facts: Said['facts']; action: RatedAction }): Promise<void> {
    let done: RatedAction | undefined
    try {
      await this.inTurn(() => {
        const before = this.notebook.farm.peek().plants.get(plant)
        if (!before) return { facts: [], alongside: {} } // withdrawn meanwhile: there is nothing to rate
        const { facts, action } = say(before, today.peek())
        done = action
        const position = this.leaving(action)
        return { facts, alongside: { [this.kept.journal]: withAction(this.journal.peek(), action), ...(position && { [this.kept.position]: position }) } }
      }, () => {
        if (!done) return
        this.journal.value = withAction(this.journal.peek(), done)
        this.position.value = this.leaving(done) ?? this.position.peek()
      })
      if (done) this.onStored(done, false)
    } catch (reason) {
      this.failure.value = reason
    }
  }

  /** Where the walk stands once an action is stored; undefined where it stays, or the walker has gone elsewhere. */
  private leaving(action: RatedAction): RatedPosition | undefined {
    const position = this.position.peek()
    return action.kind === 'rating' && position?.at === action.plant ? this.behind(position) : undefined
  }

  private behind(position: RatedPosition): RatedPosition {
    return { ...position, at: nextUnseen(this.order(position.bed), position.at, (id) => this.seen(id))?.id ?? '' }
  }

  /** Whether what an action wrote still stands as it was written. */
  private standsStill({ kind, plant, what, day }: RatedAction): boolean {
    const now = this.notebook.farm.peek().plants.get(plant)
    if (!now) return false
    if (kind === 'flag') return now.flags.some((flag) => flag.kind === what && flag.day === day)
    return this.rating.found(now, this.season())?.what === what
  }

  /** Stores when everything before it is stored and shown; then shows it and clears the failure before. */
  private inTurn(say: () => Said, show: () => void): Promise<void> {
    const turn = this.line.then(() => this.notebook.recordInTurn(say)).then(() => batch(() => {
      this.failure.value = undefined
      show()
    }))
    this.line = turn.catch(() => {})
    return turn
  }

  private moveTo(position: RatedPosition): void {
    this.position.value = position
    this.notebook.keep(this.kept.position, position).catch((reason: unknown) => { this.failure.value = reason })
  }
}
