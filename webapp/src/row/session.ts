// A walk through one bed: where it stands, and what a tap stores. Everything shown comes from the
// notebook, after it was stored there.

import { batch, signal } from '@preact/signals'
import { countFact, plantCell, visitFacts, withdrawnFact } from '../crop/facts'
import type { BedID, Day, LengthClass, Plant, PlantID, ToldGrade, VisitID } from '../crop/nouns'
import { mostStems, untoldLength } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'
import { ChangedSince, type Tap, TapQueue, type Telling } from '../ui/taps'
import { today } from '../ui/today'
import { pressed } from './digits'
import { type Action, added, type CountAction, type Journal, lastOf, without } from './journal'
import { countedIn, dayStateOf, flushOf, nextUnseen } from './walk'

export type Mode = 'number' | 'grid'

/** Where a walk stands; `at` is empty at its end. */
export interface Position {
  readonly bed: BedID
  readonly day: Day
  readonly at: PlantID | ''
  readonly mode: Mode
}

export interface Stored {
  readonly plant: PlantID
  readonly action: Action
  readonly takenBack: boolean
}

const kept = { position: 'row.position', journal: 'row.journal' } as const

/** What a record means for the walk. */
interface Step {
  readonly plant: PlantID
  /** The journal once it is stored. */
  readonly told: (journal: Journal | undefined) => Journal | undefined
  /** It goes on to the next plant. */
  readonly leaves: boolean
  readonly stored: () => void
}

type WalkTap = (Telling | Tap) & Step

const sessions = new WeakMap<Notebook, Session>()

export class Session {
  readonly position = signal<Position | undefined>(undefined)
  readonly journal = signal<Journal | undefined>(undefined)
  /** Two-digit entry: the first digit, 0 while it is awaited, undefined outside. A signal and no
   *  component's state, so that keys quicker than a drawing find it. */
  readonly tens = signal<number | undefined>(undefined)
  /** Why the last record was not kept; undefined once one was. */
  readonly failure = signal<unknown>(undefined)
  /** Called after each record that was stored. */
  onStored: (stored: Stored) => void = () => {}

  private readonly notebook: Notebook
  private readonly taps: TapQueue<WalkTap>
  private readonly goingBack = new Set<Action>()
  /** Plants that a record being stored will leave: a finger that trembles must not count there twice. */
  private readonly beingLeft = new Set<PlantID>()

  constructor(notebook: Notebook) {
    this.notebook = notebook
    this.taps = new TapQueue(notebook, (stored) => this.keptWith(stored))
    this.position.value = notebook.kept<Position | null>(kept.position) ?? undefined
    this.journal.value = notebook.kept<Journal>(kept.journal)
  }

  /** The one session of a notebook, so that leaving Row and coming back waits for the same taps. */
  static of(notebook: Notebook): Session {
    let session = sessions.get(notebook)
    if (!session) {
      session = new Session(notebook)
      sessions.set(notebook, session)
    }
    return session
  }

  order(bed: BedID): Plant[] {
    const farm = this.notebook.farm.value
    return countedIn(farm, bed, seasonOf(farm.calendar, today.value), today.value)
  }

  /** Begins or resumes a bed's walk at its first unseen plant. */
  open(bed: BedID): void {
    const mode = this.position.peek()?.mode ?? 'number'
    const first = nextUnseen(this.order(bed), '', (plant) => this.seen(plant))
    this.moveTo({ bed, day: today.peek(), at: first?.id ?? '', mode })
  }

  close(): void {
    this.position.value = undefined
    this.keep(kept.position, null)
  }

  goTo(at: PlantID | ''): void {
    const position = this.position.peek()
    if (position) this.moveTo({ ...position, at })
  }

  setMode(mode: Mode): void {
    const position = this.position.peek()
    if (position) this.moveTo({ ...position, mode })
  }

  /** On to the next plant that nobody has seen today, or to the end of the walk. */
  next(): void {
    const position = this.position.peek()
    if (position) this.moveTo(this.behind(position))
  }

  private behind(position: Position): Position {
    const next = nextUnseen(this.order(position.bed), position.at, (plant) => this.seen(plant))
    return { ...position, at: next?.id ?? '' }
  }

  /** A digit of the keypad: counts a handful and goes on to the next plant, or waits for the second of two. */
  digit(plant: PlantID, value: number): void {
    if (this.beingLeft.has(plant)) return
    const stems = pressed(this.tens.peek(), value)
    this.tens.value = stems === undefined ? value : undefined
    if (stems !== undefined) void this.handful(plant, stems)
  }

  private async handful(plant: PlantID, stems: number): Promise<void> {
    const action = this.countOf(plant, '', untoldLength, stems)
    await this.leaving(action, (step) => this.tapOf(action, step))
  }

  /** One stem of a grade and length; the walk stays. */
  stem(plant: PlantID, grade: ToldGrade, length: LengthClass): void {
    const action = this.countOf(plant, grade, length, 1)
    void this.store(action, this.tapOf(action, this.adding(action, false)))
  }

  /** Says that the plant bears nothing today, and on to the next. */
  async nothing(plant: PlantID): Promise<void> {
    const visit = this.notebook.visitID(plant, today.peek(), 'nothing')
    const before = () => [...this.visitFacts(visit, plant, 'nothing'), withdrawnFact('visit', visit, false)]
    await this.leaving({ kind: 'nothing', plant, visit }, (step) => ({ ...step, visit, before }))
  }

  /** Stores an action that goes on to the next plant, once however often it is tapped meanwhile. */
  private async leaving(action: Action, tapOf: (step: Step) => WalkTap): Promise<void> {
    if (this.beingLeft.has(action.plant)) return
    this.beingLeft.add(action.plant)
    await this.store(action, tapOf(this.adding(action, true)))
    this.beingLeft.delete(action.plant)
  }

  /** The action that `takeBack` would undo now. */
  last(): Action | undefined {
    return lastOf(this.journal.value, today.value, this.goingBack)
  }

  async takeBack(): Promise<void> {
    const action = this.last()
    if (!action) return
    this.goingBack.add(action)
    try {
      await this.taps.push(this.undoing(action))
      this.onStored({ plant: action.plant, action, takenBack: true })
      this.goTo(action.plant)
    } catch (reason) {
      // It can never be taken back now, and must not stand before those that can.
      if (reason instanceof ChangedSince) this.journal.value = without(this.journal.peek(), action)
      this.failure.value = reason
    } finally {
      this.goingBack.delete(action)
    }
  }

  private undoing(action: Action): WalkTap {
    const step = this.step(action.plant, (journal) => without(journal, action), false)
    if (action.kind === 'count') return this.tapOf({ ...action, stems: -action.stems }, step)
    return { ...step, visit: action.visit, before: () => [withdrawnFact('visit', action.visit, true)] }
  }

  private async store(action: Action, tap: WalkTap): Promise<void> {
    try {
      await this.taps.push(tap)
      this.onStored({ plant: action.plant, action, takenBack: false })
    } catch (reason) {
      this.failure.value = reason
    }
  }

  private countOf(plant: PlantID, grade: ToldGrade, length: LengthClass, stems: number): CountAction {
    const visit = this.notebook.visitID(plant, today.peek(), 'cut')
    return { kind: 'count', plant, visit, grade, length, stems }
  }

  private tapOf({ plant, visit, grade, length, stems }: CountAction, step: Step): WalkTap {
    const cell = plantCell(grade, length)
    return {
      ...step, visit, cell, add: stems, most: mostStems,
      before: () => [...this.visitFacts(visit, plant, 'cut'), ...this.nothingNoMore(plant)],
      count: (value) => countFact('field', visit, cell, value),
    }
  }

  private adding(action: Action, leaves: boolean): Step {
    const day = today.peek()
    return this.step(action.plant, (journal) => added(journal, action, day), leaves)
  }

  private step(plant: PlantID, told: Step['told'], leaves: boolean): Step {
    const step: Step = { plant, told, leaves, stored: () => this.done(step) }
    return step
  }

  /** What this phone keeps together with taps: the journal, and where the walk then stands. */
  private keptWith(stored: readonly Step[]): Record<string, unknown> {
    const journal = stored.reduce<Journal | undefined>((before, tap) => tap.told(before), this.journal.peek())
    const position = this.position.peek()
    const leaves = position && stored.some((tap) => tap.leaves && tap.plant === position.at)
    return { [kept.journal]: journal, ...(leaves && { [kept.position]: this.behind(position) }) }
  }

  /** The facts of a visit that is not in the notebook yet. */
  private visitFacts(visit: VisitID, plant: PlantID, purpose: 'cut' | 'nothing'): readonly Fact[] {
    const farm = this.notebook.farm.peek()
    if (farm.visits.has(visit)) return []
    const bed = farm.plantings.get(farm.plants.get(plant)?.planting ?? ('' as never))?.bed ?? ''
    const date = today.peek()
    const flush = flushOf(bed === '' ? undefined : farm.beds.get(bed), seasonOf(farm.calendar, date), date)
    return visitFacts({
      id: visit, plant, bed, date, purpose, person: this.notebook.person.peek(), flush,
      toOrder: false, planting: '', age: 0, counts: [],
    })
  }

  /** Stems cut unsay this person's own "nothing here" of the same day. */
  private nothingNoMore(plant: PlantID): Fact[] {
    const nothing = this.notebook.visitID(plant, today.peek(), 'nothing')
    return this.notebook.farm.peek().visits.has(nothing) ? [withdrawnFact('visit', nothing, true)] : []
  }

  private seen(plant: PlantID): boolean {
    return dayStateOf(this.notebook.farm.peek(), plant, today.peek()).seen
  }

  /** Shows what was stored, and steps on unless the walker has gone elsewhere meanwhile. */
  private done(step: Step): void {
    batch(() => {
      this.failure.value = undefined
      this.journal.value = step.told(this.journal.peek())
      const position = this.position.peek()
      if (step.leaves && position?.at === step.plant) {
        this.tens.value = undefined
        this.position.value = this.behind(position)
      }
    })
  }

  private moveTo(position: Position): void {
    this.tens.value = undefined
    this.position.value = position
    this.keep(kept.position, position)
  }

  private keep(name: string, value: unknown): void {
    this.notebook.keep(name, value).catch((reason: unknown) => { this.failure.value = reason })
  }
}
