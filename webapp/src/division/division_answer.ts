// The form of the shed's answer to what to divide. Mirrors internal/division.

import type { IntentDo } from '../crop/ahead_nouns'
import { intentDos } from '../crop/ahead_nouns'
import type { ColourID, Day, PlantID, Season, StockID } from '../crop/nouns'
import type { Why } from '../crop/why'
import { type Check, having, listOf, maybe, numbers, numeric, text } from '../ui/json_form'

/** A mean, and what 5 and 95 of 100 draws are below. */
export interface Range {
  readonly mean: number
  readonly lo: number
  readonly hi: number
}

export interface Action {
  readonly plant: PlantID
  readonly do: IntentDo
  /** Divisions; absent where it is not divided. */
  readonly into?: number
  /** What its stems bring beside those of all others, less what it costs. */
  readonly value_cents: Range
  /** Of the next season. */
  readonly stems: Range
  readonly why: readonly Why[]
  /** What the next best for this plant would bring less, in the mean. */
  readonly gives_up_cents: number
  /** What replanting after the third season would do, where that is another thing, and what it would bring less. */
  readonly by_age?: { readonly do: IntentDo; readonly gives_up_cents: number }
}

/** Stems of a colour class that are wanted in a week, in the last season looked at. */
export interface Wanted {
  readonly colour: ColourID
  /** The week's Monday, in whatever year. */
  readonly due: Day
  readonly stems: number
}

/** Something that whoever reads a plan should know; which fields speak goes by the code. */
export interface DivisionNote {
  readonly code: string
  readonly stock?: StockID
  readonly colour?: ColourID
  readonly plants?: number
  readonly stems?: number
  readonly chance?: number
}

export interface DivisionAnswer {
  readonly asof: Day
  /** After which it is done. */
  readonly season: Season
  readonly actions: readonly Action[]
  readonly goal: { readonly chance: number; readonly draws: number; readonly stems: Range; readonly now: number; readonly wanted?: number; readonly season?: Season }
  readonly net_cents: Range
  /** By what part of its net the best plan can at most be better; 0 where none is. */
  readonly gap: number
  readonly place_worth_cents: number
  readonly hour_worth_cents: number
  readonly places_used: number
  readonly hours_used: number
  /** How much of what was wanted comes in the mean. */
  readonly wanted?: readonly (Wanted & { readonly mean: number })[]
  readonly notes?: readonly DivisionNote[]
}

const range = having(numbers('mean', 'lo', 'hi'))
const aDo: Check = (value) => (intentDos as readonly unknown[]).includes(value)
const why = having({ code: text, times: maybe(numeric), age: maybe(numeric), cents: maybe(numeric), colour: maybe(text) })
const action = having({
  plant: text, do: aDo, into: maybe(numeric), value_cents: range, stems: range, why: listOf(why), gives_up_cents: numeric,
  by_age: maybe(having({ do: aDo, gives_up_cents: numeric })),
})
const note = having({ code: text, stock: maybe(text), colour: maybe(text), ...Object.fromEntries(['plants', 'stems', 'chance'].map((name) => [name, maybe(numeric)])) })
const form = having({
  asof: text, ...numbers('season', 'gap', 'place_worth_cents', 'hour_worth_cents', 'places_used', 'hours_used'), actions: listOf(action),
  goal: having({ ...numbers('chance', 'draws', 'now'), stems: range, wanted: maybe(numeric), season: maybe(numeric) }), net_cents: range,
  wanted: maybe(listOf(having({ colour: text, due: text, ...numbers('stems', 'mean') }))), notes: maybe(listOf(note)),
})

export function isDivisionAnswer(value: unknown): value is DivisionAnswer {
  return form(value)
}
