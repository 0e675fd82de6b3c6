// weather.csv, read on the device by the rules of internal/sheets/weather.go: what is wrong is told by its line, and then
// nothing is taken.

import { parseDay } from '../crop/day'
import type { Temperatures } from '../crop/degree_days'
import type { Day } from '../crop/nouns'
import { type CsvRow, csvRows } from '../ui/csv_rows'

export interface WeatherRow extends Temperatures {
  readonly date: Day
  readonly line: number
}

export interface SheetProblem {
  /** From 1. */
  readonly line: number
  /** '' where the row or the file as a whole is meant. */
  readonly column: string
  readonly kind: ProblemKind
  /** What stands there, and what else is named. */
  readonly found: string
  readonly other: string
}

/**
 * 'encoding': no UTF-8; 'empty': no line; 'quotes': a mark that is not closed; 'named_twice', 'missing': columns; 'stray': a cell
 * under no name; 'no_days': no row; 'needed': an empty date; 'date': no date; 'early': before 1900; 'twice': the day stands on
 * another line too; 'number': no temperature; 'slip': none on earth; 'above': the lowest above the highest.
 */
export type ProblemKind =
  | 'encoding' | 'empty' | 'quotes' | 'named_twice' | 'missing' | 'stray' | 'no_days' | 'needed' | 'date' | 'early' | 'twice'
  | 'number' | 'slip' | 'above'

export interface WeatherSheet {
  /** In the order of their dates, whatever that of the rows. */
  readonly days: readonly WeatherRow[]
  readonly outOfOrder: boolean
  /** Days of rows in which a temperature is missing. */
  readonly empty: readonly Day[]
  /** Columns that are not read, by their names. */
  readonly ignored: readonly string[]
  /** In the order of their lines; with any, nothing of the file is to be taken. */
  readonly problems: readonly SheetProblem[]
}

/** The text of a file; undefined where it is in another encoding than UTF-8, which nobody should guess. */
export function textOf(bytes: Uint8Array): string | undefined {
  if (bytes.includes(0)) return undefined // UTF-16 without its mark has one beside each plain letter
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes) // takes a byte order mark away
    // "CSV (Macintosh)" ends its lines with a carriage return alone.
    return (text.includes('\n') ? text : text.replaceAll('\r', '\n')).normalize('NFC')
  } catch {
    return undefined
  }
}

export function readWeatherFile(bytes: Uint8Array): WeatherSheet {
  const text = textOf(bytes)
  if (text !== undefined) return readWeather(text)
  return { days: [], outOfOrder: false, empty: [], ignored: [], problems: [{ line: 1, column: '', kind: 'encoding', found: '', other: '' }] }
}

export function readWeather(text: string): WeatherSheet {
  return new Reader().read(text)
}

const columns = ['date', 'tmin', 'tmax'] as const
type Column = (typeof columns)[number]

// No weather of the earth is beyond these in degrees Celsius or Fahrenheit (World Meteorological Organization's extremes,
// from memory: -89.2 to 56.7 °C, which is -128.6 to 134 °F).
const coldest = -130
const hottest = 140
/** An older day is a slip of the finger. */
const earliest = '1900-01-01' as Day

class Reader {
  private readonly problems: SheetProblem[] = []
  private readonly ignored: string[] = []
  private readonly days: WeatherRow[] = []
  private readonly empty: Day[] = []
  private readonly lines = new Map<Day, number>()
  private readonly places = new Map<Column, number>()
  /** Which places have a name at all, known or not. */
  private named: boolean[] = []

  read(text: string): WeatherSheet {
    const body = withoutSeparatorLine(text)
    const [header, ...rows] = csvRows(body, delimiterOf(body))
    if (!header) this.refuse(1, '', 'empty')
    else if (!header.cells) this.refuse(header.line, '', 'quotes')
    else if (this.readHeader(header.cells, header.line)) this.readRows(rows)
    const outOfOrder = this.days.some((day, i) => i > 0 && this.days[i - 1]!.date > day.date)
    const days = [...this.days].sort((a, b) => (a.date < b.date ? -1 : 1))
    return { days, outOfOrder, empty: this.empty, ignored: this.ignored, problems: [...this.problems].sort((a, b) => a.line - b.line) }
  }

  private refuse(line: number, column: string, kind: ProblemKind, found = '', other = ''): void {
    this.problems.push({ line, column, kind, found, other })
  }

  /** Whether the header is in order: below one that is not, nobody knows which cell means what. */
  private readHeader(cells: readonly string[], line: number): boolean {
    const before = this.problems.length
    cells.forEach((cell, i) => {
      const name = headerName(cell)
      this.named.push(name !== '')
      if (name === '') return
      if (!isColumn(name)) this.ignored.push(cell.trim())
      else if (this.places.has(name)) this.refuse(line, name, 'named_twice')
      else this.places.set(name, i)
    })
    for (const name of columns) if (!this.places.has(name)) this.refuse(line, name, 'missing')
    return this.problems.length === before
  }

  private readRows(rows: readonly CsvRow[]): void {
    let any = false
    for (const { line, cells } of rows) {
      any ||= !cells || cells.some((cell) => cell.trim() !== '')
      if (!cells) this.refuse(line, '', 'quotes')
      else if (cells.some((cell) => cell.trim() !== '')) {
        const stray = cells.findIndex((cell, i) => cell.trim() !== '' && !this.named[i])
        if (stray >= 0) this.refuse(line, '', 'stray', cells[stray]!.trim(), String(stray + 1))
        this.readRow(line, cells)
      }
    }
    if (!any) this.refuse(1, '', 'no_days')
  }

  private readRow(line: number, cells: readonly string[]): void {
    const cell = (column: Column) => (cells[this.places.get(column) ?? -1] ?? '').trim()
    const date = this.day(line, cell('date'))
    if (date === undefined) return
    const other = this.lines.get(date)
    if (other !== undefined) return this.refuse(line, 'date', 'twice', date, String(other))
    this.lines.set(date, line)
    const min = this.temperature(line, 'tmin', cell('tmin'))
    const max = this.temperature(line, 'tmax', cell('tmax'))
    if (cell('tmin') === '' || cell('tmax') === '') this.empty.push(date)
    else if (min === undefined || max === undefined) return
    else if (min > max) this.refuse(line, 'tmin', 'above', cell('tmin'), cell('tmax'))
    else this.days.push({ date, line, min, max })
  }

  /** No other form is tried: 03/04 is a day in March to some and in April to others. */
  private day(line: number, text: string): Day | undefined {
    const day = parseDay(text)
    if (text === '') this.refuse(line, 'date', 'needed')
    else if (day === undefined) this.refuse(line, 'date', 'date', text)
    else if (day < earliest) this.refuse(line, 'date', 'early', text)
    else return day
    return undefined
  }

  private temperature(line: number, column: Column, text: string): number | undefined {
    if (text === '') return undefined
    const degrees = parseTemperature(text)
    if (degrees === undefined) this.refuse(line, column, 'number', text)
    else if (degrees < coldest || degrees > hottest) this.refuse(line, column, 'slip', text)
    else return degrees
    return undefined
  }
}

/** Reads a number, its decimals behind a point or a comma, its minus also as typographers write it; undefined where it is none. */
export function parseTemperature(text: string): number | undefined {
  const plain = text.trim().replaceAll(',', '.').replaceAll('−', '-')
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : undefined
}

/** Blanks a first line such as "sep=;"; the line end stays, so that the lines after it keep their numbers. */
function withoutSeparatorLine(text: string): string {
  const line = text.split('\n', 1)[0]!
  return /^["\s]*sep=[,;\t"]*["\s]*$/i.test(line) ? text.slice(line.length) : text
}

/** Whichever of comma, semicolon and tab finds the most known columns in the first line. */
function delimiterOf(text: string): string {
  const found = (delimiter: string) => {
    const [header] = csvRows(text.trimStart().split('\n', 1)[0] ?? '', delimiter)
    return header?.cells?.filter((cell) => isColumn(headerName(cell))).length ?? 0
  }
  return [',', ';', '\t'].reduce((best, delimiter) => (found(delimiter) > found(best) ? delimiter : best))
}

function headerName(cell: string): string {
  return cell.trim().toLowerCase()
}

function isColumn(name: string): name is Column {
  return (columns as readonly string[]).includes(name)
}
