// What a farm was asked for and means to do, and what it goes by. Mirrors internal/crop/ahead.go.

import { daysBetween } from './day'
import type { BedID, ColourID, Day, Millimetres, PersonID, PlantID, Season, ToldGrade } from './nouns'
import type { BuyerID, Cents, OrderID } from './sale_nouns'

declare const brand: unique symbol
type Brand<T, B extends string> = T & { readonly [brand]: B }

export type AskID = Brand<string, 'AskID'>
/** `taskIDOf` of a task that follows from what grows; a UUID of an own one. */
export type TaskID = Brand<string, 'TaskID'>
/** `intentIDOf`. */
export type IntentID = Brand<string, 'IntentID'>

export type AskAnswer = 'promised' | 'declined' | 'went_elsewhere'
export type DegreeUnit = 'c' | 'f'
export type WarmMethod = 'sine' | 'average'
/** What follows from what grows. */
export type GrownTaskKind = 'corral' | 'first_look' | 'heavy_week' | 'cut_back' | 'deadhead' | 'divide' | 'label_mothers' | 'order_plugs' | 'stand_walk'
export type TaskKind = GrownTaskKind | 'own'
export type IntentDo = 'keep' | 'divide' | 'lift' | 'replace'

export const askAnswers: readonly AskAnswer[] = ['promised', 'declined', 'went_elsewhere']
export const grownTaskKinds: readonly GrownTaskKind[] = ['corral', 'first_look', 'heavy_week', 'cut_back', 'deadhead', 'divide', 'label_mothers', 'order_plugs', 'stand_walk']
export const intentDos: readonly IntentDo[] = ['keep', 'divide', 'lift', 'replace']

/** What a broken promise costs where the farm says nothing, percent of its stems' price: then nine in ten is enough. */
export const usualBreakCost = 900
/** What the shed takes of a temperature, in degrees Celsius. */
export const coldest = -90
export const hottest = 60

/** Stems that somebody would buy, promised or not. */
export interface Ask {
  readonly id: AskID
  /** '' where nobody in the book asked. */
  readonly buyer: BuyerID | ''
  readonly note: string
  readonly stems: number
  /** Any of these; none is any colour. */
  readonly colours: readonly ColourID[]
  /** At least; '' is any but out. */
  readonly grade: ToldGrade
  /** At least; 0 is any. */
  readonly length: Millimetres
  /** The same as `due` for a day; Monday and Sunday of a week of which any day will do. */
  readonly from: Day
  readonly due: Day
  /** The day on which it came. */
  readonly taken: Day | ''
  readonly person: PersonID | ''
  /** '' while it is open. */
  readonly answer: AskAnswer | ''
  /** Stems. */
  readonly offered: number
  /** That was told with the answer, per mille; 0 is none. */
  readonly chance: number
  /** Of what was promised. */
  readonly order: OrderID | ''
  /** A stem; 0 is not told, or not this device's to know. */
  readonly price: Cents
}

/** The lowest and the highest temperature of a day in degrees Celsius. */
export interface DayWeather {
  readonly min: number
  readonly max: number
}

/** How the farm reckons with warmth: thresholds in degrees Celsius; upper may be no higher than lower where they were told apart. */
export interface Warmth {
  /** How temperatures are shown. */
  readonly degrees: DegreeUnit
  readonly lower: number
  readonly upper: number
  readonly method: WarmMethod
}

/** Where the farm says nothing (common practice, no source). */
export const usualWarmth: Warmth = { degrees: 'c', lower: 10, upper: 30, method: 'sine' }

/** What work, plants and ground cost a farm that divides. Only owners' devices know. */
export interface DivisionCosts {
  /** Cents an hour of work. */
  readonly hour: number
  /** Minutes for each division. */
  readonly divide: number
  /** Minutes a plant. */
  readonly lift: number
  /** Minutes a plug. */
  readonly set: number
  /** Cents. */
  readonly plug: number
  /** Cents a place and season. */
  readonly ground: number
  /** What stands at the end of a plan, percent of what it brings in one more season. */
  readonly standing: number
}

/** Where the farm says nothing (common practice, no source). */
export const usualCosts: DivisionCosts = { hour: 2000, divide: 6, lift: 5, set: 3, plug: 250, ground: 40, standing: 70 }
/** Larger ones are slips. */
export const mostPlantMinutes = 600
export const mostStanding = 500

/** What was said of a task: of one that follows from what grows, nothing before it is done, put off or dropped. */
export interface Task {
  readonly id: TaskID
  readonly kind: TaskKind
  /** Of an own task. */
  readonly bed: BedID | ''
  /** Of an own task, and of one that was put off. */
  readonly due: Day | ''
  readonly what: string
  readonly done: Day | ''
  readonly person: PersonID | ''
  readonly dropped: boolean
}

/** What was decided for a plant in a season, and what was expected of it in the next. */
export interface Intent {
  readonly id: IntentID
  readonly season: Season
  readonly plant: PlantID
  readonly do: IntentDo
  /** Plants, where it is divided. */
  readonly into: number
  readonly why: readonly string[]
  readonly made: Day | ''
  readonly done: Day | ''
  readonly person: PersonID | ''
  readonly stems: Expected<number>
  /** Only owners' devices know. */
  readonly value: Expected<Cents>
}

export interface Expected<T> {
  readonly mean: T
  readonly lo: T
  readonly hi: T
}

/** What a season's division plan was made for. */
export interface Plan {
  readonly season: Season
  /** Hundredths of the stems of before: 150 is half as many again. */
  readonly goal: number
  readonly seasons: number
  readonly places: number
  readonly minutes: number
  /** Stated, per mille. */
  readonly chance: number
  readonly made: Day | ''
  /** Only owners' devices know. */
  readonly net: Cents
}

/** What lies ahead; each map is keyed by the noun's id. A new object whenever something of it changed. */
export interface Ahead {
  readonly warmth: Warmth
  readonly costs: DivisionCosts
  readonly asks: ReadonlyMap<AskID, Ask>
  readonly weather: ReadonlyMap<Day, DayWeather>
  /** Days whose lowest temperature was told above the highest: there to be put right, and nothing to reckon with. */
  readonly weatherWrong: ReadonlyMap<Day, DayWeather>
  readonly tasks: ReadonlyMap<TaskID, Task>
  /** Those that were taken back are not among them. */
  readonly intents: ReadonlyMap<IntentID, Intent>
  readonly plans: ReadonlyMap<Season, Plan>
  /** Withdrawn ones, which may be brought back. */
  readonly goneAsks: ReadonlyMap<AskID, Ask>
  readonly goneTasks: ReadonlyMap<TaskID, Task>
}

/**
 * Tells whether a division plan made on a day takes an ask to come again: it was of the year before, nobody met all of it,
 * and it may not be met any more.
 */
export function comesAgain(ask: Pick<Ask, 'stems' | 'answer' | 'offered' | 'due'>, on: Day): boolean {
  const open = ask.answer === '' && ask.due >= on
  return unmetStems(ask) > 0 && !open && ask.due <= on && daysBetween(ask.due, on) < 365
}

/** The stems of an ask that nobody promised: of one that is open, all of them. */
export function unmetStems({ stems, answer, offered }: Pick<Ask, 'stems' | 'answer' | 'offered'>): number {
  return answer === 'promised' ? Math.max(0, stems - offered) : stems
}
