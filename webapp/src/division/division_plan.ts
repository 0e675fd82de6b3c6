// The division plan that an owner asks the shed for: what is asked, the last answer with what it was asked, and what the
// grower changed of it by hand. All of it stays on the device until the plan is taken.

import { type ReadonlySignal, signal } from '@preact/signals'
import type { IntentDo } from '../crop/ahead_nouns'
import { freePlaces } from '../crop/free_places'
import type { Farm, PlantID } from '../crop/nouns'
import { type Notebook, ownersAlone } from '../sync/notebook'
import { ShedAnswer } from '../ui/shed_answer'
import { type DivisionAnswer, isDivisionAnswer } from './division_answer'

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
  readonly hand: Readonly<Record<PlantID, ByHand>>
}

/** Two days of work, and clumps that are pulled into four at most: common practice, no source. */
const usual = { hours: 16, goal: 1.5, seasons: 2, chance: 0.8, most: 4 }
/** A large farm on a small machine that has other work takes minutes. */
const patience = 300_000
const kept = `${ownersAlone}division.asked`
const nothing: Kept = { question: undefined, answered: undefined, hand: {} }
const plans = new WeakMap<Notebook, DivisionPlan>()

export class DivisionPlan {
  readonly shed: ShedAnswer<DivisionAnswer>
  private readonly now
  private asking: Question | undefined

  private constructor(private readonly notebook: Notebook) {
    this.now = signal<Kept>({ ...nothing, ...notebook.kept<Partial<Kept>>(kept) })
    const body = () => this.asking
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
    return this.now.value.question ?? { ...usual, places: placesBetween(farm) }
  }

  /** What the answer at hand was asked. */
  get answered(): Question | undefined {
    return this.now.value.answered
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
    this.asking = this.question(this.notebook.farm.peek())
    await this.shed.refresh(this.notebook)
    if (this.shed.answer.peek() !== before) await this.keep({ answered: this.asking, hand: {} })
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

export function sameQuestion(a: Question, b: Question): boolean {
  return (['places', 'hours', 'goal', 'seasons', 'chance', 'most'] as const).every((part) => a[part] === b[part])
}
