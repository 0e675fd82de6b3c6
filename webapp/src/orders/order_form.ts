// An order, or a standing one, as it is typed, and what keeps it from being one.

import { addDays, parseDay } from '../crop/day'
import type { Due } from '../crop/due'
import type { ColourID, Day, LengthUnit, Millimetres, ToldGrade } from '../crop/nouns'
import { bunchesPacked, stemsPacked } from '../crop/over_packed'
import { priceOf } from '../crop/price_of'
import {
  type Bunch, type BunchID, type BuyerID, type Channel, type Line, type LineID, mostBunches, mostBunchStems, type Order, type Sales,
  type StandingOrder, type Weekdays,
} from '../crop/sale_nouns'
import { amountFrom, amountTyped, lengthFrom, lengthTyped } from './numbers'
import { wholeFrom } from '../ui/whole_number'
import { missesDays } from './warnings'
import { cutoff } from '../crop/cutoff'

/** One line; numbers are as they were typed. */
export interface LineDraft {
  readonly id: LineID
  /** '' is by its own numbers. */
  readonly bunch: BunchID | ''
  readonly bunches: string
  readonly stems: string
  readonly grade: ToldGrade
  readonly length: string
  /** The length that the text was written for. */
  readonly lengthBefore: Millimetres
  readonly colours: readonly ColourID[]
  readonly whole: boolean
  readonly exact: boolean
  /** '' is as the price list has it. */
  readonly price: string
}

export interface OrderDraft {
  readonly buyer: BuyerID | ''
  readonly day: string
  readonly note: string
  readonly lines: readonly LineDraft[]
}

export interface StandingDraft extends Omit<OrderDraft, 'day'> {
  readonly days: Weekdays
  readonly every: string
  readonly from: string
  readonly until: string
}

export type LineProblem = 'bunches' | 'stems' | 'length' | 'price' | 'price_zero'
export type OrderProblem = 'buyer' | 'day' | 'lines' | 'weekdays' | 'every' | 'from' | 'until'
/** line is its place, from 1. */
export type Problem = { readonly of: OrderProblem } | { readonly of: LineProblem; readonly line: number } | PackedProblem

/** Fewer bunches than are packed for a line, or other stems in them. */
export interface PackedProblem {
  readonly of: 'packed' | 'packed_stems'
  readonly line: number
  readonly packed: number
}

export function lineOfBunch(id: LineID, bunch: Bunch | undefined, unit: LengthUnit): LineDraft {
  const length = bunch?.length ?? (0 as Millimetres)
  return {
    id, bunch: bunch?.id ?? '', bunches: '1', stems: String(bunch?.stems ?? 10), grade: bunch?.grade ?? '', length: lengthTyped(length, unit),
    lengthBefore: length, colours: [], whole: false, exact: false, price: '',
  }
}

export function draftOfLine(line: Line, unit: LengthUnit): LineDraft {
  const { id, bunch, bunches, stems, grade, length, colours, whole, exact, price } = line
  return {
    id, bunch, bunches: String(bunches), stems: String(stems), grade, length: lengthTyped(length, unit), lengthBefore: length, colours, whole, exact,
    price: amountTyped(price),
  }
}

/** The lines of an order again, for another one: priced by the list anew, and as agreed then where it has no price. */
export function linesAgain(sales: Sales, last: Pick<Due, 'buyer' | 'lines'>, day: Day, unit: LengthUnit, newID: () => LineID): LineDraft[] {
  return last.lines.map((line) => {
    const draft = { ...draftOfLine(line, unit), id: newID() }
    return priceOf(sales, last.buyer, line.bunch, line.colours, day).cents > 0 ? { ...draft, price: '' } : draft
  })
}

type ReadLine = { readonly line: Line } | { readonly problem: LineProblem }

/** The line told, belonging to nothing yet. */
export function readLine(draft: LineDraft, unit: LengthUnit): ReadLine {
  const bunches = wholeFrom(draft.bunches, 1, mostBunches)
  const stems = wholeFrom(draft.stems, 1, mostBunchStems)
  const length = lengthFrom(draft.length, unit, draft.lengthBefore)
  const price = amountFrom(draft.price)
  if (bunches === undefined) return { problem: 'bunches' }
  if (stems === undefined) return { problem: 'stems' }
  if (length === undefined) return { problem: 'length' }
  if (price === undefined) return { problem: 'price' }
  if (price === 'zero') return { problem: 'price_zero' }
  const { id, bunch, grade, colours, whole, exact } = draft
  return { line: { id, order: '', standing: '', bunch, bunches, stems, grade, length, colours, whole, exact, price } }
}

/** The lines that are told, and what is wrong with the others. */
function readLines(drafts: readonly LineDraft[], unit: LengthUnit): { readonly lines: Line[]; readonly problems: Problem[] } {
  const read = drafts.map((draft) => readLine(draft, unit))
  const problems = read.flatMap((one, i): Problem[] => ('problem' in one ? [{ of: one.problem, line: i + 1 }] : []))
  if (drafts.length === 0) problems.push({ of: 'lines' })
  return { lines: read.flatMap((one) => ('line' in one ? [one.line] : [])), problems }
}

export function readOrder(
  draft: OrderDraft, made: Pick<Order, 'id' | 'taken'>, sales: Sales, unit: LengthUnit,
): { readonly head: Order; readonly lines: readonly Line[] } | { readonly problems: readonly Problem[] } {
  const day = parseDay(draft.day)
  const { lines, problems } = readLines(draft.lines, unit)
  if (day === undefined) problems.unshift({ of: 'day' })
  if (draft.buyer === '') problems.unshift({ of: 'buyer' })
  if (draft.buyer === '' || day === undefined || problems.length > 0) return { problems }
  const buyer = draft.buyer
  // What the list says on the day that it is taken is agreed, whatever the list says later.
  const priced = lines.map((line) => ({ ...line, order: made.id, price: line.price || priceOf(sales, buyer, line.bunch, line.colours, day).cents }))
  return { head: { ...made, buyer, due: day, note: draft.note.trim() }, lines: priced }
}

/** Lines are read in the order of their ids: those that are new get ids in the order in which they were written. */
export function freshInOrder(lines: readonly Line[], known: readonly LineID[]): Line[] {
  const fresh = lines.filter(({ id }) => !known.includes(id) && !id.includes('@'))
  const ids = fresh.map(({ id }) => id).sort()
  const renamed = new Map(fresh.map(({ id }, i) => [id, ids[i]!]))
  return lines.map((line) => ({ ...line, id: renamed.get(line.id) ?? line.id }))
}

/** Lines that would order less than they did and than is packed for them, or bunches unlike those: what is packed is taken back before. */
export function packedProblems(sales: Sales, before: readonly Line[], after: readonly Line[]): PackedProblem[] {
  const was = new Map(before.map((line) => [line.id, line]))
  return after.flatMap(({ id, bunches, stems }, i): PackedProblem[] => {
    const packed = bunchesPacked(sales, id)
    if (bunches < Math.min(packed, was.get(id)?.bunches ?? 0)) return [{ of: 'packed', line: i + 1, packed }]
    const others = packed > 0 && stems !== was.get(id)?.stems && stems * packed !== stemsPacked(sales, id)
    return others ? [{ of: 'packed_stems', line: i + 1, packed }] : []
  })
}

export function readStanding(
  draft: StandingDraft, made: Pick<StandingOrder, 'id' | 'skips'>, unit: LengthUnit,
): { readonly head: StandingOrder; readonly lines: readonly Line[] } | { readonly problems: readonly Problem[] } {
  const from = parseDay(draft.from)
  const until = draft.until === '' ? ('' as const) : parseDay(draft.until)
  const every = wholeFrom(draft.every, 1, 52)
  const { lines, problems } = readLines(draft.lines, unit)
  if (until === undefined || (until !== '' && from !== undefined && until < from)) problems.unshift({ of: 'until' })
  if (from === undefined) problems.unshift({ of: 'from' })
  if (every === undefined) problems.unshift({ of: 'every' })
  if (draft.days === '') problems.unshift({ of: 'weekdays' })
  if (draft.buyer === '') problems.unshift({ of: 'buyer' })
  if (draft.buyer === '' || from === undefined || until === undefined || every === undefined || problems.length > 0) return { problems }
  const head = { ...made, buyer: draft.buyer, from, until, days: draft.days, every, note: draft.note.trim() }
  return { head, lines: lines.map((line) => ({ ...line, standing: made.id })) }
}

/** The day of each buyer's last order, so that who buys often stands first. */
export function lastOrders(sales: Sales): ReadonlyMap<BuyerID, Order> {
  const last = new Map<BuyerID, Order>()
  for (const order of sales.orders.values()) {
    const known = last.get(order.buyer)
    if (!known || order.due > known.due) last.set(order.buyer, order)
  }
  return last
}

/** The next days on which a channel is delivered to and for which orders are still taken. */
export function nextDays(channel: Channel | undefined, today: Day, nowMs: number, wanted: number): Day[] {
  const days: Day[] = []
  for (let i = 0, day = today; days.length < wanted && i < 70; day = addDays(today, ++i)) {
    const closed = channel && cutoff(channel, day)
    if (channel && missesDays(channel, day) || closed !== undefined && nowMs > closed) continue
    days.push(day)
  }
  return days
}

/** The digits of days of the week with one more, or one less. */
export function withWeekday(days: Weekdays, digit: number): Weekdays {
  const on = days.includes(String(digit)) ? days.replace(String(digit), '') : days + digit
  return [...on].sort().join('') as Weekdays
}
