// The season's books as the shed adds them up. Mirrors server/httpapi/money_answer.go; amounts ending in _cents are whole,
// prices and what is of one plant, metre, foot or hour are cents with parts, null where there is nothing to divide by.

import type { Day, Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { ownersAlone } from '../sync/notebook'
import { eachOf, having, listOf, maybe, numbers, numeric, orNull, text } from '../ui/json_form'
import { Shelf } from './shelf'

/** What books are added up by, in the order in which it is offered. */
export const dims = ['channel', 'buyer', 'colour', 'grade', 'length', 'age', 'age_class', 'stock', 'bed', 'plant', 'day', 'week', 'month', 'what'] as const
export type Dim = (typeof dims)[number]

export const isDim = (name: string): name is Dim => (dims as readonly string[]).includes(name)

/** What lies in one place; an empty key is untold. Mirrors httpapi.moneyRow. */
export interface Row {
  readonly key: string
  readonly stems: number
  readonly bunches: number
  readonly gross_cents: Cents
  readonly kept_cents: Cents
  readonly fees_cents: Cents
  readonly fees_paid_cents: Cents
  readonly claims_cents: Cents
  readonly net_cents: Cents
  readonly costs_cents: Cents
  readonly fixed_cents: Cents
  readonly work_cents: Cents
  readonly minutes: number
  readonly left_cents: Cents
  readonly shrunk_stems: number
  readonly shrunk_cents: Cents
  /** Hundredths of a percent of what was sold. */
  readonly share: number
  readonly price_a_stem: number | null
  readonly an_hour: number | null
  readonly ground?: Ground
}

export interface Ground {
  readonly plants: number
  readonly length: number
  readonly left_a_length: number | null
  readonly left_a_plant: number | null
}

export interface Budget {
  readonly bunches: number
  readonly price: number | null
  readonly break_even_price: number | null
  readonly break_even_bunches: number | null
  readonly pays_fixed: number | null
}

/** Plants of one class of age; all but age, plants and saleable is a plant's. */
export interface Side {
  readonly age: string
  readonly plants: number
  readonly saleable: number | null
  readonly price_a_stem: number | null
  readonly cut_a_plant: number | null
  readonly sold_a_plant: number | null
  readonly net_a_plant: number | null
  readonly minutes_a_plant: number | null
  readonly work_a_plant: number | null
  readonly left_a_plant: number | null
}

export interface Books {
  readonly season: Season
  /** That have books, the latest first. */
  readonly seasons: readonly Season[]
  readonly currency: string
  /** Of beds: "m" or "ft". */
  readonly unit: string
  readonly by: string
  readonly rows: readonly Row[]
  readonly all: Row
  readonly budget: Budget | null
  readonly sides: readonly Side[]
  /** How many of each are counted in a way that a reader must know. */
  readonly doubts: Readonly<Record<string, number>>
}

const perhaps = (...names: readonly string[]) => Object.fromEntries(names.map((name) => [name, orNull(numeric)]))

const ground = having({ ...numbers('plants', 'length'), ...perhaps('left_a_length', 'left_a_plant') })
const row = having({
  key: text,
  ...numbers(
    'stems', 'bunches', 'gross_cents', 'kept_cents', 'fees_cents', 'fees_paid_cents', 'claims_cents', 'net_cents', 'costs_cents',
    'fixed_cents', 'work_cents', 'minutes', 'left_cents', 'shrunk_stems', 'shrunk_cents', 'share',
  ),
  ...perhaps('price_a_stem', 'an_hour'), ground: maybe(ground),
})
const budget = having({ bunches: numeric, ...perhaps('price', 'break_even_price', 'break_even_bunches', 'pays_fixed') })
const side = having({
  age: text, plants: numeric,
  ...perhaps('saleable', 'price_a_stem', 'cut_a_plant', 'sold_a_plant', 'net_a_plant', 'minutes_a_plant', 'work_a_plant', 'left_a_plant'),
})
const books = having({
  season: numeric, seasons: listOf(numeric), currency: text, unit: text, by: text, rows: listOf(row), all: row,
  budget: orNull(budget), sides: listOf(side), doubts: eachOf(numeric),
})

export const isBooks = (value: unknown): value is Books => books(value)

/** What is asked of the books. */
export interface Question {
  readonly by: Dim
  /** None is the present one, or the latest with books. */
  readonly season: Season | undefined
  readonly keep: Readonly<Partial<Record<Dim, string>>>
  /** Days of deliveries, costs and work, both included; '' is no bound. */
  readonly from?: Day | ''
  readonly to?: Day | ''
}

/** The question as the shed reads it; the same for the same, in whichever order it was put together. */
export function queryOf({ by, season, keep, from = '', to = '' }: Question): string {
  const asked = new URLSearchParams({ by })
  if (season !== undefined) asked.set('season', String(season))
  if (from !== '') asked.set('from', from)
  if (to !== '') asked.set('to', to)
  for (const dim of dims) {
    const key = keep[dim]
    if (key !== undefined) asked.set(dim, key)
  }
  return `?${asked}`
}

/** As many as there are views, and some that were filtered. */
const mostKept = 20

export const shelf = new Shelf<Books>({ path: '/api/money', kept: `${ownersAlone}books`, isAnswer: isBooks, most: mostKept })
