// Costs, payments, statements and their rows as they are typed, and what keeps each from being one.

import { parseDay } from '../crop/day'
import { type Cost, type Payment, type Statement, type StatementRow } from '../crop/money_nouns'
import type { Day } from '../crop/nouns'
import { type Cents, mostBunches } from '../crop/sale_nouns'
import { parseAmount, parseSigned, typedAmount } from '../ui/money'

/** What is wrong: `future` is a day that is to come. */
export type EntryProblem = 'amount' | 'day' | 'future' | 'channel' | 'order' | 'bunches'

export type Read<T> = { readonly entry: T } | { readonly problem: EntryProblem }

export interface CostForm extends Omit<Cost, 'cents' | 'date'> {
  readonly amount: string
  readonly day: string
  /** Money that came back, as a refund: its amount is typed as it stands on the paper. */
  readonly back: boolean
}

export function costForm({ cents, date, ...cost }: Cost): CostForm {
  return { ...cost, amount: cents === 0 ? '' : typedAmount(Math.abs(cents) as Cents), day: date, back: cents < 0 }
}

export function readCost({ amount, day, back, ...cost }: CostForm, today: Day): Read<Cost> {
  const cents = parseAmount(amount)
  const date = pastDay(day, today)
  if (cents === undefined || cents === 0) return { problem: 'amount' }
  if (typeof date !== 'string') return date
  return { entry: { ...cost, what: cost.what.trim(), cents: back ? (-cents as Cents) : cents, date } }
}

export interface PaymentForm extends Omit<Payment, 'cents' | 'date'> {
  readonly amount: string
  readonly day: string
}

export function paymentForm({ cents, date, ...payment }: Payment): PaymentForm {
  return { ...payment, amount: cents === 0 ? '' : typedAmount(cents), day: date }
}

export function readPayment({ amount, day, ...payment }: PaymentForm, today: Day): Read<Payment> {
  const cents = parseSigned(amount)
  const date = pastDay(day, today)
  if (cents === undefined || cents === 0) return { problem: 'amount' }
  if (typeof date !== 'string') return date
  return { entry: { ...payment, note: payment.note.trim(), cents, date } }
}

export interface StatementForm extends Omit<Statement, 'cents' | 'from' | 'to' | 'paid'> {
  readonly amount: string
  readonly from: string
  readonly to: string
  readonly paid: string
}

export function statementForm({ cents, ...statement }: Statement): StatementForm {
  return { ...statement, amount: cents === 0 ? '' : typedAmount(cents) }
}

/** A statement without a sum at its foot is none; one of nothing has 0. */
export function readStatement({ amount, from, to, paid, ...statement }: StatementForm, today: Day): Read<Statement> {
  const cents = parseSigned(amount)
  const [first, last] = [pastDay(from, today), parseDay(to)]
  const came = paid === '' ? '' : pastDay(paid, today)
  if ((statement.channel as string) === '') return { problem: 'channel' }
  if (typeof first !== 'string') return first
  if (last === undefined) return { problem: 'day' }
  if (last < first) return { problem: 'order' }
  if (typeof came !== 'string') return came
  if (cents === undefined) return { problem: 'amount' }
  return { entry: { ...statement, note: statement.note.trim(), cents, from: first, to: last, paid: came } }
}

export interface RowForm extends Pick<StatementRow, 'words'> {
  readonly day: string
  readonly bunches: string
  readonly amount: string
  readonly kept: string
}

export function rowForm({ date, words, bunches, cents, kept }: StatementRow): RowForm {
  return { day: date, words, bunches: bunches === 0 ? '' : String(bunches), amount: typedAmount(cents), kept: kept === 0 ? '' : typedAmount(kept) }
}

export type RowTold = Pick<StatementRow, 'date' | 'words' | 'bunches' | 'cents' | 'kept'>

export function readRow({ day, words, bunches: tied, amount, kept: keeps }: RowForm): Read<RowTold> {
  const date = day === '' ? '' : parseDay(day)
  const bunches = tied.trim() === '' ? 0 : /^[-−]?\d{1,4}$/.test(tied.trim()) ? Number(tied.trim().replace('−', '-')) : undefined
  const cents = parseSigned(amount)
  const kept = keeps.trim() === '' ? 0 : parseSigned(keeps)
  if (date === undefined) return { problem: 'day' }
  if (bunches === undefined || Math.abs(bunches) > mostBunches) return { problem: 'bunches' }
  if (cents === undefined || kept === undefined) return { problem: 'amount' }
  return { entry: { date, words: words.trim(), bunches, cents, kept: kept as RowTold['kept'] } }
}

function pastDay(text: string, today: Day): Day | { readonly problem: EntryProblem } {
  const day = parseDay(text)
  if (day === undefined) return { problem: 'day' }
  return day > today ? { problem: 'future' } : day
}
