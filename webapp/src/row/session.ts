// A walk through one bed: where it stands, and what a tap stores. Everything shown comes from the
// notebook, after it was stored there.

import { batch, signal } from '@preact/signals'
import { type BedID, type LengthClass, type Plant, type PlantID, type ToldGrade, untoldLength, type VisitID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { countedOn, standingIn } from '../crop/standing'
import type { Notebook } from '../sync/notebook'
import { ChangedSince, TapQueue } from '../ui/taps'
import { today } from '../ui/today'
import { bedOfPlant, viewOf } from './day'
import { pressed } from './digits'
import { type Action, added, type CountAction, type Journal, lastGraded, lastOf, without } from './journal'
import { cutTap, nothingFacts, undoneFacts } from './saying'
import { type Mode, type Position, stays, type Step, type Stored, type WalkTap } from './steps'
import { calledOut, goesOnAt, nextUnseen } from './walk'
import { Ways } from './ways'

const kept = { position: 'row.position', journal: 'row.journal', mode: 'row.mode' } as const
const always = () => true
const sessions = new WeakMap<Notebook, Session>()

export class Session {
  readonly position = signal<Position | undefined>(undefined)
  readonly journal = signal<Journal | undefined>(undefined)
  /** Two-digit entry: the first digit, 0 while it is awaited, undefined outside; here, where keys quicker than a drawing find it. */
  readonly tens = signal<number | undefined>(undefined)
  /** Stems that the next tap on the grid adds. */
  readonly adds = signal<1 | 5 | 10>(1)
  /** Why the last record was not kept; undefined once one was. */
  readonly failure = signal<unknown>(undefined)
  /** No tap counts: the phone is in a pocket. */
  readonly locked = signal(false)
  readonly ways: Ways
  /** Called after each record that was stored. */
  onStored: (stored: Stored) => void = () => {}

  private readonly seen = (plant: PlantID) => viewOf(this.notebook.farm.peek(), today.peek()).state(plant).seen
  private readonly notebook: Notebook
  private readonly taps: TapQueue<WalkTap>
  private readonly goingBack = new Set<Action>()
  private graded: CountAction | undefined
  /** Plants, or a bed, that a record being stored will leave: a finger that trembles must not count there twice. */
  private readonly beingLeft = new Set<PlantID | BedID>()

  constructor(notebook: Notebook) {
    this.notebook = notebook
    this.ways = new Ways(notebook)
    this.taps = new TapQueue(notebook, (stored) => this.keptWith(stored))
    this.position.value = notebook.kept<Position | null>(kept.position) ?? undefined
    this.journal.value = notebook.kept<Journal>(kept.journal)
  }

  /** The one session of a notebook, so that leaving Row and coming back waits for the same taps. */
  static of(notebook: Notebook): Session {
    const session = sessions.get(notebook) ?? new Session(notebook)
    sessions.set(notebook, session)
    return session
  }

  /** The plants that a bed's walk calls out. */
  order(bed: BedID): readonly Plant[] {
    const farm = this.notebook.farm.value
    const position = this.position.value
    const at = position?.bed === bed ? position.at : ''
    return calledOut(farm, bed, seasonOf(farm.calendar, today.value), today.value, this.ways.of(bed).whom, at)
  }

  /** Whether a plant's silence today means nothing. */
  isCounted(plant: Plant): boolean {
    return countedOn(plant, seasonOf(this.notebook.farm.value.calendar, today.value), today.value)
  }

  /** A bed's counted plants that nobody has seen today. */
  untouched(bed: BedID): Plant[] {
    const farm = this.notebook.farm.value
    return standingIn(farm, bed, today.value).filter((plant) => this.isCounted(plant) && !this.seen(plant.id))
  }

  /** Begins or resumes a bed's walk: at its first unseen plant, or where it stood today if it passes some by. */
  open(bed: BedID): void {
    const order = this.order(bed)
    const passes = !order.every((plant) => this.isCounted(plant))
    const at = goesOnAt(order, passes ? this.stoodAt(bed) : '', this.seen)
    this.moveTo({ bed, day: today.peek(), at, mode: this.mode(), passes })
  }

  private stoodAt(bed: BedID): PlantID | '' {
    const position = this.position.peek()
    const stood = position?.bed === bed ? position : this.ways.of(bed).left
    return stood?.passes && stood.day === today.peek() ? stood.at : ''
  }

  close(): void {
    const position = this.position.peek()
    const way = position && this.ways.change(position.bed, { left: position })
    this.keepAll({ [kept.position]: null, ...way })
    this.position.value = undefined
  }

  goTo(at: PlantID | ''): void {
    const position = this.position.peek()
    if (position) this.moveTo({ ...position, at })
  }

  /** Goes to any plant that stands in a bed, called out there or not; false where it is in none. */
  jump(plant: PlantID): boolean {
    const bed = bedOfPlant(this.notebook.farm.peek(), plant)
    if (bed === undefined) return false
    const position = this.position.peek()
    this.moveTo({ ...(position?.bed === bed && position), bed, day: today.peek(), at: plant, mode: this.mode() })
    return true
  }

  setMode(mode: Mode): void {
    const position = this.position.peek()
    if (position) this.moveTo({ ...position, mode })
    this.keep(kept.mode, mode) // for the next bed
  }

  private mode(): Mode {
    return this.position.peek()?.mode ?? this.notebook.kept<Mode>(kept.mode) ?? 'number'
  }

  setWay(bed: BedID, way: Parameters<Ways['set']>[1]): void {
    this.ways.set(bed, way).catch((reason: unknown) => { this.failure.value = reason })
  }

  /** On to the next plant that nobody has seen today, or to the end of the walk. */
  next(): void {
    const position = this.position.peek()
    if (position) this.moveTo(this.behind(position))
  }

  private behind(position: Position): Position {
    const next = nextUnseen(this.order(position.bed), position.at, this.seen)
    return { ...position, at: next?.id ?? '' }
  }

  /** A digit of the keypad: counts a handful and goes on to the next plant, or waits for the second of two. */
  digit(plant: PlantID, value: number): void {
    if (this.beingLeft.has(plant)) return
    const stems = pressed(this.tens.peek(), value)
    this.tens.value = stems === undefined ? value : undefined
    if (stems !== undefined) void this.countAndLeave(this.countOf(plant, '', untoldLength, stems))
  }

  /** As many stems of a grade and length as the step says; the walk stays. */
  stem(plant: PlantID, grade: ToldGrade, length: LengthClass): void {
    const action = this.countOf(plant, grade, length, this.taken())
    void this.store(action, cutTap(this.notebook, this.journal, action, this.adding(action, stays)))
  }

  /** The same for a plant's last: on to the next. */
  lastStem(plant: PlantID, grade: ToldGrade, length: LengthClass): void {
    if (this.beingLeft.has(plant)) return
    void this.countAndLeave(this.countOf(plant, grade, length, this.taken()))
  }

  /** The step, which holds for one tap. */
  private taken(): number {
    const adds = this.adds.peek()
    this.adds.value = 1
    return adds
  }

  private countAndLeave(action: CountAction): Promise<void> {
    return this.leaving(action.plant, action, (step) => cutTap(this.notebook, this.journal, action, step))
  }

  /** Says that the plant bears nothing today, unless a stem of it was on its way to the disk; and on to the next. */
  async nothing(plant: PlantID): Promise<void> {
    const visit = this.notebook.visitID(plant, today.peek(), 'nothing')
    let isSaid = true
    const before = () => {
      isSaid = !this.seen(plant)
      return isSaid ? nothingFacts(this.notebook, plant, visit) : []
    }
    await this.leaving(plant, { kind: 'nothing', plant, visit }, (step) => ({ ...step, visit, before }), () => isSaid)
  }

  /** Stores an action that goes on to the next plant, once however often it is tapped meanwhile; isSaid: by then it said something. */
  private async leaving(plant: PlantID, action: Action, tapOf: (step: Step) => WalkTap, isSaid = always): Promise<void> {
    if (this.beingLeft.has(plant)) return
    this.beingLeft.add(plant)
    const goes = (position: Position) => (position.at === plant ? this.behind(position) : position)
    await this.store(action, tapOf(this.adding(action, goes, isSaid)), isSaid)
    this.beingLeft.delete(plant)
  }

  /** Says "nothing here" of every counted plant of a bed that is untouched when its turn comes, as one record. */
  async closeBed(bed: BedID): Promise<void> {
    if (this.beingLeft.has(bed)) return
    this.beingLeft.add(bed)
    const action = { kind: 'closed' as const, bed, visits: [] as { plant: PlantID; visit: VisitID }[] }
    const before = () => {
      action.visits = this.untouched(bed).map(({ id }) => ({ plant: id, visit: this.notebook.visitID(id, today.peek(), 'nothing') }))
      return action.visits.flatMap(({ plant, visit }) => nothingFacts(this.notebook, plant, visit))
    }
    const isSaid = () => action.visits.length > 0
    const step = this.adding(action, (position) => (position.bed === bed ? { ...position, at: '' } : position), isSaid)
    await this.store(action, { ...step, visit: this.notebook.visitID(bed, today.peek(), 'nothing'), before }, isSaid)
    this.beingLeft.delete(bed)
  }

  /** The action that `takeBack` would undo now. */
  last(): Action | undefined {
    return lastOf(this.journal.value, today.value, this.goingBack)
  }

  /** The last count that was told a grade today, also where it is still on its way to the disk. */
  lastGraded(): CountAction | undefined {
    return this.graded ?? lastGraded(this.journal.peek(), today.peek())
  }

  async takeBack(): Promise<void> {
    const action = this.last()
    if (!action) return
    this.goingBack.add(action)
    try {
      await this.taps.push(this.undoing(action))
      this.onStored({ action, takenBack: true })
      if (action.kind === 'closed') this.goTo('')
      else this.jump(action.plant)
    } catch (reason) {
      // It can never be taken back now, and must not stand before those that can.
      if (reason instanceof ChangedSince) this.journal.value = without(this.journal.peek(), action)
      this.failure.value = reason
    } finally {
      this.goingBack.delete(action)
    }
  }

  private undoing(action: Action): WalkTap {
    const step = this.step((journal) => without(journal, action), stays)
    const before = (adds: number) => undoneFacts(this.notebook, this.journal.peek(), action, adds)
    if (action.kind === 'count') return { ...cutTap(this.notebook, this.journal, action, step), add: -action.stems, before }
    const visit = action.kind === 'closed' ? this.notebook.visitID(action.bed, today.peek(), 'nothing') : action.visit
    return { ...step, visit, before }
  }

  private async store(action: Action, tap: WalkTap, isSaid = always): Promise<void> {
    if (action.kind === 'count' && action.grade !== '') this.graded = action
    try {
      await this.taps.push(tap)
      if (isSaid()) this.onStored({ action, takenBack: false })
    } catch (reason) {
      this.failure.value = reason
    }
    if (this.graded === action) this.graded = undefined
  }

  private countOf(plant: PlantID, grade: ToldGrade, length: LengthClass, stems: number): CountAction {
    const visit = this.notebook.visitID(plant, today.peek(), 'cut')
    const bed = bedOfPlant(this.notebook.farm.peek(), plant)
    return { kind: 'count', plant, visit, grade, length, stems, toOrder: bed !== undefined && this.ways.of(bed).toOrder }
  }

  private adding(action: Action, goes: Step['goes'], isSaid = always): Step {
    const day = today.peek()
    return this.step((journal) => (isSaid() ? added(journal, action, day) : journal), goes)
  }

  private step(told: Step['told'], goes: Step['goes']): Step {
    const step: Step = { told, goes, stored: () => this.done(step) }
    return step
  }

  /** What this phone keeps together with taps: the journal, and where the walk then stands. */
  private keptWith(stored: readonly Step[]): Record<string, unknown> {
    const journal = stored.reduce<Journal | undefined>((before, tap) => tap.told(before), this.journal.peek())
    const position = this.position.peek()
    const then = position && stored.reduce((before, tap) => tap.goes(before), position)
    return { [kept.journal]: journal, ...(then !== position && { [kept.position]: then }) }
  }

  /** Shows what was stored, and steps on unless the walker has gone elsewhere meanwhile. */
  private done(step: Step): void {
    batch(() => {
      this.failure.value = undefined
      this.journal.value = step.told(this.journal.peek())
      const position = this.position.peek()
      const then = position && step.goes(position)
      if (then !== position) this.begin(then)
    })
  }

  private leave(): void {
    const position = this.position.peek()
    if (position) this.setWay(position.bed, { left: position })
  }

  private moveTo(position: Position): void {
    if (position.bed !== this.position.peek()?.bed) this.leave()
    this.begin(position)
    this.keep(kept.position, position)
  }

  private begin(position: Position | undefined): void {
    this.tens.value = undefined
    this.adds.value = 1
    this.position.value = position
  }

  private keep(name: string, value: unknown): void {
    this.keepAll({ [name]: value })
  }

  private keepAll(alongside: Readonly<Record<string, unknown>>): void {
    this.notebook.recordInTurn(() => ({ facts: [], alongside })).catch((reason: unknown) => { this.failure.value = reason })
  }
}
