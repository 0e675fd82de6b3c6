// What the shed planned to pack for a day, as it travels (server/httpapi/packing.go), and whether something that came or
// was kept has that form.

import type { ColourID, Day, Grade, Millimetres, ToldGrade } from '../crop/nouns'
import type { Cents, LineID } from '../crop/sale_nouns'
import { type Check, eachOf, having, listOf, maybe, numbers, numeric, text, truth } from '../ui/json_form'

export type Why = 'size' | 'refused' | 'pinned' | 'floor' | 'elsewhere' | 'want'

export interface PackingAnswer {
  /** The farm's newest arrival number that went in. */
  readonly arrival: number
  readonly asof: Day
  /** Ms since 1970 by the shed's clock. */
  readonly at: number
  readonly day: Day
  /** There with vase life left; of them placed. */
  readonly stems: number
  readonly placed: number
  /** No other plan brings more. */
  readonly proven: boolean
  readonly lines: readonly PlannedLine[]
  readonly unsold: readonly StemsOfLot[]
  readonly top_down: readonly Differs[]
  /** What was asked for: bunches of a line in all, and nothing more of a line. */
  readonly pinned: Readonly<Record<LineID, number>>
  readonly refused: readonly LineID[]
  /** Of those, what does not fit the day. */
  readonly wrong: readonly LineID[]
  /** For owners alone. */
  readonly money?: PlanMoney
}

export interface PlannedLine {
  readonly line: LineID
  /** What it asked for when it was planned. */
  readonly asked: AskedThen
  /** Bunches packed before the plan, and those of the plan. */
  readonly packed: number
  readonly more: number
  readonly had: readonly StemsOfLot[]
  readonly from: readonly StemsOfLot[]
  /** Whether it was weighed against others. */
  readonly priced: boolean
  /** Grades of which no stem may go there, since it pays less than their floor. */
  readonly kept: readonly Grade[]
  readonly short?: Short
}

export interface AskedThen {
  readonly bunches: number
  readonly stems: number
  readonly grade: ToldGrade
  readonly length: Millimetres
  /** With what the buyer takes instead; none is any. */
  readonly colours: readonly ColourID[]
  readonly whole: boolean
}

export interface Short {
  readonly why: Why
  /** Stems that would make one bunch more, or all of a line that is all or nothing. */
  readonly missing: number
  /** Colours of which so many are left. */
  readonly ask: readonly ColourID[]
  /** Stems that would do, wherever they go. */
  readonly there: number
  readonly to: readonly Taker[]
}

/** A line that got stems which another lacks. */
export interface Taker {
  readonly line: LineID
  readonly stems: number
  /** It pays more a stem; told to owners alone. */
  readonly better?: boolean
}

export interface StemsOfLot {
  readonly lot: string
  readonly stems: number
}

export interface Differs {
  readonly line: LineID
  readonly more: number
  readonly top_down: number
}

/** Once channels have kept their part. */
export interface PlanMoney {
  readonly revenue: Cents
  readonly bound: Cents
  readonly top_down: Cents
  readonly one_stem: Readonly<Record<string, Cents>>
  readonly one_bunch: Readonly<Record<LineID, Cents>>
  /** What a bunch of each line brings. */
  readonly net: Readonly<Record<LineID, Cents>>
}

const whys: readonly string[] = ['size', 'refused', 'pinned', 'floor', 'elsewhere', 'want'] satisfies Why[]
const isWhy: Check = (value) => typeof value === 'string' && whys.includes(value)
const stems = listOf(having({ lot: text, stems: numeric }))
const taker = having({ line: text, stems: numeric, better: maybe(truth) })
const short = having({ why: isWhy, ...numbers('missing', 'there'), ask: listOf(text), to: listOf(taker) })
const asked = having({ ...numbers('bunches', 'stems', 'length'), grade: text, colours: listOf(text), whole: truth })
const line = having({
  line: text, asked, ...numbers('packed', 'more'), had: stems, from: stems, priced: truth, kept: listOf(text), short: maybe(short),
})
const money = having({ ...numbers('revenue', 'bound', 'top_down'), one_stem: eachOf(numeric), one_bunch: eachOf(numeric), net: eachOf(numeric) })

const form = having({
  ...numbers('arrival', 'at', 'stems', 'placed'), asof: text, day: text, proven: truth, lines: listOf(line), unsold: stems,
  top_down: listOf(having({ line: text, ...numbers('more', 'top_down') })), pinned: eachOf(numeric), refused: listOf(text), wrong: listOf(text),
  money: maybe(money),
})

export function isPackingAnswer(value: unknown): value is PackingAnswer {
  return form(value)
}
