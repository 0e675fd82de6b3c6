// The division plan that an owner asks the shed for: what is asked, the last answer with what it was asked, and what the
// grower changed of it by hand. All of it stays on the device until the plan is taken.

import { type ReadonlySignal, signal } from '@preact/signals'
import { type AskID, type DivisionCosts, type IntentDo, usualCosts } from '../crop/ahead_nouns'
import { freePlaces } from '../crop/free_places'
import type { Farm, PlantID } from '../crop/nouns'
import { type Notebook, ownersAlone } from '../sync/notebook'
import { ShedAnswer } from '../ui/shed_answer'
import { type DivisionAnswer, isDivisionAnswer, type Wanted } from './division_answer'

export interface Question {
  readonly places: number
  readonly hours: number
  /** How many times this season's stems. */
  readonly goal: number
  readonly seasons: number
  /** How likely the goal has to be, 0 to 1; 0 asks nothing. */
  readonly chance: number
  /** Divisions that one plant may be made into. */
  readonly most: number
  /** Whatever they bring. */
  readonly wanted: readonly Wanted[]
  /** Asks that nobody met and that do not come again. */
  readonly leftOut: readonly AskID[]
}

/** What becomes of a plant, as the grower has it. */
export interface ByHand {
  readonly do: IntentDo
  /** 0 where it is not divided. */
  readonly into: number
}

interface Kept {
  readonly question: Question | undefined
  /** What the answer at hand was asked; undefined where there is none. */
  readonly answered: Question | undefined
  /** What divisions cost by then. */
  readonly costs: DivisionCosts | undefined
  readonly hand: Readonly<Record<PlantID, ByHand>>
}

/** Two days of work, and clumps that are pulled into four at most: common practice, no source. */
const usual = { hours: 16, goal: 1.5, seasons: 2, chance: 0.8, most: 4, wanted: [], leftOut: [] }
/** A large farm on a small machine that has other work takes minutes. */
const patience = 300_000
const costsTold = Object.keys(usualCosts) as (keyof DivisionCosts)[]
const kept = `${ownersAlone}division.asked`
const nothing: Kept = { question: undefined, answered: undefined, costs: undefined, hand: {} }
const plans = new WeakMap<Notebook, DivisionPlan>()

export class DivisionPlan {
  readonly shed: ShedAnswer<DivisionAnswer>
  private readonly now
  private asking: Question | undefined

  private constructor(private readonly notebook: Notebook) {
    this.now = signal<Kept>({ ...nothing, ...notebook.kept<Partial<Kept>>(kept) })
    const body = () => this.asking && bodyOf(this.asking)
    this.shed = new ShedAnswer<DivisionAnswer>({
      path: '/api/divide', get body() { return body() }, kept: `${ownersAlone}division.answer`, isAnswer: isDivisionAnswer, patience,
    })
    this.shed.read(notebook)
  }

  static of(notebook: Notebook): DivisionPlan {
    const one = plans.get(notebook) ?? new DivisionPlan(notebook)
    plans.set(notebook, one)
    return one
  }

  get answer(): ReadonlySignal<DivisionAnswer | undefined> {
    return this.shed.answer
  }

  /** What is to be asked next. */
  question(farm: Farm): Question {
    return { ...usual, places: placesBetween(farm), ...this.now.value.question }
  }

  /** What the answer at hand was asked. */
  get answered(): Question | undefined {
    const { answered } = this.now.value
    return answered && { ...usual, ...answered }
  }

  /** Whether the answer at hand is to something else than is asked now, or by other costs. */
  isStale(farm: Farm): boolean {
    const { answered } = this
    const { costs } = this.now.value
    const costly = costs !== undefined && costsTold.some((cost) => costs[cost] !== farm.ahead.costs[cost])
    return answered !== undefined && (costly || !sameQuestion(this.question(farm), answered))
  }

  get hand(): Readonly<Record<PlantID, ByHand>> {
    return this.now.value.hand
  }

  ask(part: Partial<Question>): Promise<void> {
    return this.keep({ question: { ...this.question(this.notebook.farm.peek()), ...part } })
  }

  /** Asks the shed; what was changed by hand of the answer before goes with it. */
  async plan(): Promise<void> {
    const before = this.shed.answer.peek()
    const farm = this.notebook.farm.peek()
    this.asking = this.question(farm)
    await this.shed.refresh(this.notebook)
    if (this.shed.answer.peek() !== before) await this.keep({ answered: this.asking, costs: farm.ahead.costs, hand: {} })
  }

  /** What becomes of a plant by the grower's word; undefined leaves it to the plan. */
  decide(plant: PlantID, what: ByHand | undefined): Promise<void> {
    const hand = Object.fromEntries(Object.entries(this.now.peek().hand).filter(([id]) => id !== plant)) as Record<PlantID, ByHand>
    return this.keep({ hand: what ? { ...hand, [plant]: what } : hand })
  }

  private keep(part: Partial<Kept>): Promise<void> {
    this.now.value = { ...this.now.peek(), ...part }
    return this.notebook.keep(kept, this.now.peek())
  }
}

export function placesBetween(farm: Farm): number {
  return [...freePlaces(farm).values()].reduce((sum, n) => sum + n, 0)
}

/** As the shed is asked. */
function bodyOf({ leftOut, ...asked }: Question) {
  return { ...asked, left_out: leftOut }
}

export function sameQuestion(a: Question, b: Question): boolean {
  const wanted = (of: Question) => of.wanted.map(({ colour, due, stems }) => `${due} ${colour} ${stems}`).sort().join()
  const leftOut = (of: Question) => [...of.leftOut].sort().join()
  return (['places', 'hours', 'goal', 'seasons', 'chance', 'most'] as const).every((part) => a[part] === b[part]) && wanted(a) === wanted(b) && leftOut(a) === leftOut(b)
}
