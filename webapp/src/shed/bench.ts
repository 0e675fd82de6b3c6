// The bench: what a bed gave on a day, by colour class, grade and length.

import { computed, signal } from '@preact/signals'
import { visitsOn } from '../crop/bed_day'
import { bedCell, countFact, stageFact, visitFacts } from '../crop/facts'
import { type BedID, type ColourID, type Count, type Day, type Farm, type LengthClass, mostBenchStems, type Stage, type ToldGrade, type Visit, type VisitID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { flushOf } from '../crop/visit_day'
import type { Notebook } from '../sync/notebook'
import { ChangedSince, type Tap, TapQueue } from '../ui/taps'
import { today } from '../ui/today'

/** One tap on the bench, so that it can be read and taken back. */
export interface BenchAction {
  readonly visit: VisitID
  readonly bed: BedID
  readonly date: Day
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly stems: number
}

const benches = new WeakMap<Notebook, Bench>()

export class Bench {
  readonly bed = signal<BedID | ''>('')
  /** A day other than today, as long as one is chosen; what the field holds, so perhaps no day at all. */
  readonly otherDay = signal<Day | undefined>(undefined)
  /** The day of what is entered: today, over midnight too, unless another is chosen. */
  readonly date = computed<Day>(() => this.otherDay.value ?? today.value)
  readonly colour = signal<ColourID | ''>('')
  readonly actions = signal<readonly BenchAction[]>([])
  /** How open the heads are of a total that is not begun yet; told with its first stems. */
  private readonly stageAhead = signal<{ readonly visit: VisitID; readonly stage: Stage | '' } | undefined>(undefined)
  readonly failure = signal<unknown>(undefined)

  private readonly notebook: Notebook
  private readonly taps: TapQueue<Tap>
  private readonly goingBack = new Set<BenchAction>()

  constructor(notebook: Notebook) {
    this.notebook = notebook
    this.taps = new TapQueue(notebook)
  }

  /** The one bench of a notebook, so that a half-entered total survives a look at another place. */
  static of(notebook: Notebook): Bench {
    let bench = benches.get(notebook)
    if (!bench) {
      bench = new Bench(notebook)
      benches.set(notebook, bench)
    }
    return bench
  }

  chooseDay(day: Day): void {
    this.otherDay.value = day === today.peek() ? undefined : day
  }

  stems(grade: ToldGrade, length: LengthClass): number {
    const bed = this.bed.value
    if (bed === '') return 0
    const visit = this.notebook.visitID(bed, this.date.value, 'bench')
    return this.notebook.cell(visit, bedCell(this.colour.value, grade, length)).total
  }

  /** What this device counted in the bed chosen, on the day chosen. */
  counts(): readonly Count[] {
    const visit = this.own()
    return (visit !== undefined && this.notebook.farm.value.visits.get(visit)?.counts) || []
  }

  /** How open the heads of what this device counts in the bed were, on the day chosen. */
  stage(): Stage | '' {
    const visit = this.own()
    if (visit === undefined) return ''
    const begun = this.notebook.farm.value.visits.get(visit)
    if (begun) return begun.stage
    return this.stageAhead.value?.visit === visit ? this.stageAhead.value.stage : ''
  }

  async tellStage(stage: Stage | ''): Promise<void> {
    const visit = this.own()
    if (visit === undefined) return
    if (this.notebook.farm.peek().visits.has(visit)) await this.notebook.record([stageFact(visit, stage)])
    else this.stageAhead.value = { visit, stage }
  }

  private own(): VisitID | undefined {
    const bed = this.bed.value
    return bed === '' ? undefined : this.notebook.visitID(bed, this.date.value, 'bench')
  }

  /** Begins at a bed, day and colour class of which a total was forgotten. */
  goTo(bed: BedID, day: Day, colour: ColourID | ''): void {
    this.bed.value = bed
    this.chooseDay(day)
    this.colour.value = colour
  }

  /** Adds stems to a cell of the bed, date and colour class chosen now. */
  async add(grade: ToldGrade, length: LengthClass, stems: number): Promise<BenchAction | undefined> {
    const bed = this.bed.peek()
    if (bed === '') return undefined
    const date = this.date.peek()
    const visit = this.notebook.visitID(bed, date, 'bench')
    const action = { visit, bed, date, colour: this.colour.peek(), grade, length, stems }
    return this.attempt(action, stems, () => [...this.actions.peek(), action])
  }

  last(): BenchAction | undefined {
    return this.actions.value.findLast((action) => !this.goingBack.has(action))
  }

  async takeBack(): Promise<BenchAction | undefined> {
    const action = this.last()
    if (!action) return undefined
    this.goingBack.add(action)
    const without = () => this.actions.peek().filter((other) => other !== action)
    const back = await this.attempt(action, -action.stems, without)
    // It can never be taken back now, and must not stand before those that can.
    if (!back && this.failure.peek() instanceof ChangedSince) this.actions.value = without()
    this.goingBack.delete(action)
    return back
  }

  private async attempt(action: BenchAction, add: number, actions: () => readonly BenchAction[]): Promise<BenchAction | undefined> {
    const cell = bedCell(action.colour, action.grade, action.length)
    try {
      await this.taps.push({
        visit: action.visit, cell, add, most: mostBenchStems,
        before: () => this.visitFacts(action),
        count: (value) => countFact('shed', action.visit, cell, value),
      })
    } catch (reason) {
      this.failure.value = reason
      return undefined
    }
    this.failure.value = undefined
    this.actions.value = actions()
    return action
  }

  private visitFacts({ visit, bed, date }: BenchAction) {
    const farm = this.notebook.farm.peek()
    if (farm.visits.has(visit)) return []
    return visitFacts({
      id: visit, plant: '', bed, date, purpose: 'bench', person: this.notebook.person.peek(),
      flush: flushOf(farm.beds.get(bed), seasonOf(farm.calendar, date), date),
      toOrder: false, planting: '', age: 0, counts: [],
      stage: this.stageAhead.peek()?.visit === visit ? this.stageAhead.peek()!.stage : '',
    })
  }
}

/** What came over the bench on a day, by the beds' names. */
export function benchVisits(farm: Farm, date: Day): Visit[] {
  const name = ({ bed }: Visit) => (bed === '' ? undefined : farm.beds.get(bed)?.name) ?? ''
  return visitsOn(farm, date)
    .filter((visit) => visit.purpose === 'bench' && visit.counts.length > 0)
    .sort((a, b) => name(a).localeCompare(name(b), undefined, { numeric: true }))
}
