// Cells read as dates, numbers, amounts and words. What cannot be read is told by its line, and nothing is guessed.

import { parseDay } from '../crop/day'
import { type Day, type LengthClass, type Millimetres, type ToldGrade, untoldLength } from '../crop/nouns'
import { type Cents, mostCents } from '../crop/sale_nouns'
import { type Key, tCode, t } from '../messages/messages'
import type { ColumnKey, Match } from './columns'
import { plain } from './columns'
import type { Sheet, SheetRow } from './sheet'

export interface SheetProblem {
  readonly line: number
  /** undefined where the row as a whole is meant. */
  readonly column: ColumnKey | undefined
  /** A sentence that says what is wrong and what to do. */
  readonly text: string
}

/** How dates are written: year first, or with the day or the month first. */
export type DateForm = 'ymd' | 'dmy' | 'mdy'

const dateForms: Readonly<Record<DateForm, RegExp>> = {
  ymd: /^(?<y>\d{4})[-/.](?<m>\d{1,2})[-/.](?<d>\d{1,2})$/,
  dmy: /^(?<d>\d{1,2})[-/.](?<m>\d{1,2})[-/.](?<y>\d{4})$/,
  mdy: /^(?<m>\d{1,2})[-/.](?<d>\d{1,2})[-/.](?<y>\d{4})$/,
}

/** The forms in which every date of some cells is one; none where there is no such form. */
export function dateFormsOf(cells: readonly string[]): DateForm[] {
  const told = cells.filter((cell) => cell !== '')
  return (['ymd', 'dmy', 'mdy'] as const).filter((form) => told.every((cell) => readDay(cell, form) !== undefined))
}

export function readDay(text: string, form: DateForm): Day | undefined {
  const found = (dateForms[form].exec(text) ?? dateForms.ymd.exec(text))?.groups
  if (!found) return undefined
  return parseDay(`${found['y']}-${found['m']!.padStart(2, '0')}-${found['d']!.padStart(2, '0')}`)
}

/** A number with decimals behind a point or a comma; undefined where it is none or could be read in two ways, as 1.234. */
export function readNumber(text: string): number | undefined {
  const bare = text.replace(/[\s\u00A0\u202F']/g, '').replace('−', '-')
  const [points, commas] = [bare.split('.').length - 1, bare.split(',').length - 1]
  if (points > 0 && commas > 0) {
    const decimal = bare.lastIndexOf('.') > bare.lastIndexOf(',') ? '.' : ','
    const grouped = decimal === '.' ? /^-?\d{1,3}(,\d{3})+\.\d+$/ : /^-?\d{1,3}(\.\d{3})+,\d+$/
    return grouped.test(bare) ? Number(bare.replaceAll(decimal === '.' ? ',' : '.', '').replace(',', '.')) : undefined
  }
  if (points + commas === 1 && /^-?[1-9]\d{0,2}[.,]\d{3}$/.test(bare)) return undefined
  return /^-?(\d+([.,]\d+)?|[.,]\d+)$/.test(bare) ? Number(bare.replace(',', '.')) : undefined
}

/** An amount in whole cents, with or without a currency beside it. */
export function readCents(text: string): Cents | undefined {
  const bare = text.replace(/^\p{Sc}|\p{Sc}$|^[A-Z]{3}\s|\s[A-Z]{3}$/gu, '').trim()
  const value = readNumber(bare)
  if (value === undefined || value < 0) return undefined
  const cents = Math.round(value * 100)
  return Math.abs(cents - value * 100) < 1e-6 && cents <= mostCents ? (cents as Cents) : undefined
}

const grades: Readonly<Record<string, ToldGrade>> = {
  extra: 'extra', premium: 'extra', first: 'first', '1st': 'first', primera: 'first', second: 'second', seconds: 'second', '2nd': 'second', segunda: 'second',
  out: 'out', cull: 'out', descarte: 'out', fuera: 'out',
}

/** Reads the cells of a row, and notes what is wrong with them. */
export class Cells {
  constructor(
    readonly row: SheetRow,
    private readonly match: Match,
    private readonly problems: SheetProblem[],
    private readonly form: DateForm,
    private readonly today: Day,
  ) {}

  get line(): number {
    return this.row.line
  }

  text(key: ColumnKey): string {
    const at = this.match[key]
    return at === undefined ? '' : this.row.cells[at] ?? ''
  }

  need(key: ColumnKey): string {
    const text = this.text(key)
    if (text === '') this.refuse(key, t('sheets.wrong.empty'))
    return text
  }

  refuse(column: ColumnKey | undefined, text: string): void {
    this.problems.push({ line: this.row.line, column, text })
  }

  /** A day that has come; '' where there is none. */
  past(key: ColumnKey): Day | '' {
    const day = this.day(key)
    if (day === '' || day <= this.today) return day
    this.refuse(key, t('sheets.wrong.future', { found: day }))
    return ''
  }

  day(key: ColumnKey): Day | '' {
    const text = this.text(key)
    if (text === '') return ''
    const day = readDay(text, this.form)
    if (day === undefined) this.refuse(key, t('sheets.wrong.date', { found: short(text) }))
    else if (day < '1900-01-01') this.refuse(key, t('sheets.wrong.early', { found: day }))
    else return day
    return ''
  }

  whole(key: ColumnKey, least: number, most: number): number | undefined {
    const text = this.text(key)
    if (text === '') return undefined
    const n = readNumber(text)
    if (n !== undefined && Number.isInteger(n) && n >= least && n <= most) return n
    this.refuse(key, t('sheets.wrong.whole', { found: short(text), least, most }))
    return undefined
  }

  cents(key: ColumnKey): Cents | undefined {
    const text = this.text(key)
    if (text === '') return undefined
    const cents = readCents(text)
    if (cents === undefined) this.refuse(key, t('sheets.wrong.amount', { found: short(text) }))
    return cents
  }

  number(key: ColumnKey): number | undefined {
    const text = this.text(key)
    if (text === '') return undefined
    const n = readNumber(text)
    if (n === undefined) this.refuse(key, t('sheets.wrong.number', { found: short(text) }))
    return n
  }

  grade(): ToldGrade {
    const text = this.text('grade')
    const grade = text === '' ? '' : grades[plain(text)]
    if (grade === undefined) this.refuse('grade', t('sheets.wrong.grade', { found: short(text) }))
    return grade ?? ''
  }

  /** A stem's length in whole millimetres; 0 where it was not told. */
  length(): Millimetres {
    const cm = this.whole('length_cm', 0, 300)
    const mm = this.whole('length_mm', 0, 3_000)
    return (cm !== undefined ? cm * 10 : mm ?? 0) as Millimetres
  }

  /** The class of ten centimetres that begins with it. */
  lengthClass(): LengthClass {
    const told = this.text('length_cm') !== '' || this.text('length_mm') !== ''
    const lo = this.length()
    return told ? { lo, hi: (lo + 100) as Millimetres } : untoldLength
  }
}

/** What stands in a cell, cut where somebody pasted a page into it. */
export function short(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text
}

/** What a column is called. */
export function columnName(key: ColumnKey): string {
  return tCode(`sheets.column.${key}` as Key, {})
}

/** Of rows whose quotation marks make no sense, and of cells under no heading, by which a row may have been shifted. */
export function brokenProblems({ broken, headings, rows }: Sheet): SheetProblem[] {
  const stray = rows.flatMap(({ line, cells }) => {
    const at = cells.findIndex((cell, i) => cell !== '' && (headings[i] ?? '') === '')
    return at < 0 ? [] : [{ line, column: undefined, text: t('sheets.wrong.stray', { found: short(cells[at]!) }) }]
  })
  return [...broken.map((line) => ({ line, column: undefined, text: t('sheets.wrong.quotes') })), ...stray]
}
