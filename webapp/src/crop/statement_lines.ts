// A statement's rows out of a table that was pasted: of a mail, a spreadsheet or a PDF, with tabs, semicolons or wide gaps
// between its columns. What stands in a cell says what it is, so that no column must be named.

import type { Day } from './nouns'
import { type Cents, mostBunches, mostCents } from './sale_nouns'

/** A row as it is read. */
export interface LineRead {
  readonly date: Day | ''
  readonly words: string
  readonly bunches: number
  readonly cents: Cents
  readonly kept: Cents
}

export type LineProblem = 'amount' | 'day' | 'many'

export interface PastedLine {
  /** As it was pasted. */
  readonly text: string
  /** Undefined where it is no row: `problem` says why. */
  readonly read: LineRead | undefined
  readonly problem: LineProblem | undefined
}

/** Which number of a day like 06/04/2026 is the month. */
export type DayOrder = 'day_first' | 'month_first'

interface PasteRules {
  readonly order: DayOrder
  /** Of a day that tells none, such as 6/11. */
  readonly year: number
}

/**
 * Reads a table line by line; empty lines, and a first one without any amount, which is its head, are passed over. A row's
 * amounts are its gross, and what is kept or what is paid of it: of those two what is kept is the smaller. A price before the
 * gross, which its bunches times it come to, is passed over. Of several whole numbers the last before the amounts is of bunches.
 */
export function readPasted(text: string, rules: PasteRules): PastedLine[] {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '')
  const read = lines.map((line) => readLine(line, rules))
  return read[0]?.problem === 'amount' && read.length > 1 && !/\d/.test(read[0].text) ? read.slice(1) : read
}

function readLine(text: string, rules: PasteRules): PastedLine {
  const cells = cellsOf(text)
  const wrong = (problem: LineProblem): PastedLine => ({ text: text.trim(), read: undefined, problem })
  let date: Day | '' = ''
  let bunches: number | undefined
  const words: string[] = []
  const amounts: number[] = []
  for (const cell of cells) {
    const day: Day | 'none' | undefined = date === '' ? dayOf(cell, rules) : undefined
    if (day === 'none') return wrong('day')
    const amount = amountOf(cell)
    if (day !== undefined) date = day
    else if (amounts.length === 0 && /^[-−]?\d{1,4}$/.test(cell)) {
      if (bunches !== undefined) words.push(String(bunches)) // an article's number, or a lot's
      bunches = Number(cell.replace('−', '-'))
    }
    else if (amount !== undefined) amounts.push(amount)
    else words.push(cell)
  }
  const money = amountsOf(amounts, bunches)
  if (!money) return wrong(amounts.length === 0 ? 'amount' : 'many')
  if (Math.abs(bunches ?? 0) > mostBunches || Math.abs(money.cents) > mostCents) return wrong('many')
  return { text: text.trim(), read: { date, words: words.join(' '), bunches: bunches ?? 0, ...money }, problem: undefined }
}

/** Tabs, semicolons and bars part cells; where a line has none of them, two spaces and more do. */
function cellsOf(text: string): string[] {
  const parted = /[\t;|]/.test(text) ? text.split(/[\t;|]/) : text.split(/ {2,}/)
  return parted.map((cell) => cell.trim().replace(/^"(.*)"$/, '$1').trim()).filter((cell) => cell !== '')
}

/** Gross and what is kept of it; undefined where there are more amounts than that. */
function amountsOf(all: readonly number[], bunches: number | undefined): Pick<LineRead, 'cents' | 'kept'> | undefined {
  const [first, second] = all
  const isPrice = first !== undefined && second !== undefined && bunches !== undefined && bunches !== 1 && first * bunches === second
  const [gross, ...others] = isPrice ? all.slice(1) : all
  if (gross === undefined || others.length > 2) return undefined
  const [a, b] = others.map(Math.abs)
  if (a === undefined) return { cents: gross as Cents, kept: 0 as Cents }
  if (b !== undefined && a + b !== Math.abs(gross)) return undefined
  const small = b === undefined ? Math.min(a, Math.abs(gross) - a) : Math.min(a, b)
  return small < 0 ? undefined : { cents: gross as Cents, kept: (Math.sign(gross) * small + 0) as Cents }
}

/** An amount with its cents: "66.00", "1,234.50", "1.234,50 €", "-5,00", "(5.00)". */
function amountOf(cell: string): number | undefined {
  const bare = cell.replace(/[\p{Sc}\s\u00a0]|\b[A-Z]{3}\b/gu, '')
  const match = /^(\()?([-−])?(\d{1,3}(?:[.,'’]\d{3})*|\d{1,7})[.,](\d{2})\)?$/.exec(bare)
  if (!match) return undefined
  const cents = Number(match[3]!.replace(/\D/g, '')) * 100 + Number(match[4])
  return (match[1] ?? match[2]) === undefined || cents === 0 ? cents : -cents
}

/** Undefined where a cell looks like no day; 'none' where it looks like one and is none. */
function dayOf(cell: string, { order, year }: PasteRules): Day | 'none' | undefined {
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(cell)
  if (iso) return dayFrom(Number(iso[1]), Number(iso[2]), Number(iso[3]))
  const other = /^(\d{1,2})([./-])(\d{1,2})(?:\2(\d{4}|\d{2})?)?$/.exec(cell)
  if (!other || other[2] === '.' && other[4] === undefined && !cell.endsWith('.')) return undefined // 5.20 is an amount
  const [a, b] = [Number(other[1]), Number(other[3])]
  const told = other[4] === undefined ? year : Number(other[4]) + (other[4].length === 2 ? 2000 : 0)
  const dayFirst = other[2] === '.' || order === 'day_first'
  return dayFirst ? dayFrom(told, b, a) : dayFrom(told, a, b)
}

function dayFrom(year: number, month: number, day: number): Day | 'none' {
  const at = new Date(Date.UTC(year, month - 1, day))
  const isDay = at.getUTCFullYear() === year && at.getUTCMonth() === month - 1 && at.getUTCDate() === day
  return isDay ? at.toISOString().slice(0, 10) as Day : 'none'
}
