// A spreadsheet that somebody chose, as rows of text: its encoding and what parts its cells are recognised.

import { csvRows } from '../ui/csv_rows'
import { unguarded } from '../ui/csv'

export interface Sheet {
  readonly encoding: Encoding
  readonly headings: readonly string[]
  readonly rows: readonly SheetRow[]
  /** Lines on which a quotation mark is not closed, or stands inside a cell. */
  readonly broken: readonly number[]
}

export interface SheetRow {
  /** From 1; the line on which it starts. */
  readonly line: number
  readonly cells: readonly string[]
}

export type Encoding = 'utf-8' | 'utf-16' | 'windows-1252'

/** undefined where the file holds no row of text at all. */
export function readSheet(bytes: Uint8Array): Sheet | undefined {
  const { text, encoding } = decoded(bytes)
  const body = withoutSeparatorLine(text)
  const [header, ...rest] = csvRows(body, delimiterOf(body))
  if (!header?.cells || isBinary(text)) return undefined
  const rows = rest.flatMap(({ line, cells }) => (cells?.some((cell) => cell.trim() !== '') ? [{ line, cells: cells.map(clean) }] : []))
  return { encoding, headings: header.cells.map(clean), rows, broken: rest.flatMap(({ line, cells }) => (cells ? [] : [line])) }
}

/** Space around a cell cannot be seen, and would make two names of one; a guard against formulas is no part of it. */
function clean(cell: string): string {
  return unguarded(cell.trim())
}

/** A spreadsheet program's own file, a picture: what no text holds. */
function isBinary(text: string): boolean {
  return /[\u0000-\u0008\u000E-\u001A\uFFFD]/.test(text.slice(0, 4_096))
}

/** UTF-16 tells itself by its mark, or by the zeros beside plain letters; what is no UTF-8 is an older program's Windows-1252. */
function decoded(bytes: Uint8Array): { readonly text: string; readonly encoding: Encoding } {
  const encoding = encodingOf(bytes)
  const label = encoding === 'utf-16' ? (isBigEndian(bytes) ? 'utf-16be' : 'utf-16le') : encoding
  const text = new TextDecoder(label).decode(bytes) // takes a byte order mark away
  // "CSV (Macintosh)" ends its lines with a carriage return alone.
  return { text: (text.includes('\n') ? text : text.replaceAll('\r', '\n')).normalize('NFC'), encoding }
}

function encodingOf(bytes: Uint8Array): Encoding {
  const marked = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)
  const beginning = bytes.subarray(0, 64)
  const zeros = [0, 1].map((odd) => beginning.filter((byte, i) => i % 2 === odd && byte === 0).length)
  // Where zeros stand in both halves it is no text at all.
  if (marked || (Math.max(...zeros) > beginning.length / 4 && Math.min(...zeros) === 0)) return 'utf-16'
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return 'utf-8'
  } catch {
    return 'windows-1252'
  }
}

function isBigEndian(bytes: Uint8Array): boolean {
  return bytes[0] === 0xfe || (bytes[0] === 0 && bytes[1] !== 0)
}

/** Blanks a first line such as "sep=;"; the line end stays, so that the lines after it keep their numbers. */
function withoutSeparatorLine(text: string): string {
  const line = text.split('\n', 1)[0]!
  return /^["\s]*sep=[,;\t"]*["\s]*$/i.test(line) ? text.slice(line.length) : text
}

/** Whichever of semicolon, tab and comma parts the heading into most cells: no heading holds many of another. */
function delimiterOf(text: string): string {
  const cells = (delimiter: string) => csvRows(text.trimStart().split('\n', 1)[0] ?? '', delimiter)[0]?.cells?.length ?? 0
  return [',', ';', '\t'].reduce((best, delimiter) => (cells(delimiter) > cells(best) ? delimiter : best))
}
