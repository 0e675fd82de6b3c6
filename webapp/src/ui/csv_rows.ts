// The rows of a CSV as spreadsheet programs write it, read as Go's encoding/csv reads it for internal/sheets: RFC 4180, a
// space before a quotation mark forgiven, rows of any length.

export interface CsvRow {
  /** From 1; the line on which the row starts. */
  readonly line: number
  /** Undefined where a quotation mark is not closed, or stands inside a cell. */
  readonly cells: readonly string[] | undefined
}

/** Every row that is not an empty line. */
export function csvRows(text: string, delimiter: string): CsvRow[] {
  const lines = text.replaceAll('\r\n', '\n').split('\n')
  if (lines.at(-1) === '') lines.pop()
  const rows: CsvRow[] = []
  for (let at = 0; at < lines.length;) {
    const line = at + 1
    if (lines[at] === '') {
      at++
      continue
    }
    const { cells, next } = readRow(lines, at, delimiter)
    rows.push({ line, cells })
    at = next
  }
  return rows
}

/** One row, and the line behind it; a broken row ends with the line on which it broke. */
function readRow(lines: readonly string[], start: number, delimiter: string): { readonly cells: string[] | undefined; readonly next: number } {
  const cells: string[] = []
  let at = start
  let rest: string | undefined = lines[start]!
  while (rest !== undefined) {
    if (delimiter !== '\t') rest = rest.trimStart()
    if (!rest.startsWith('"')) {
      const [cell, after] = cut(rest, delimiter)
      if (cell.includes('"')) return { cells: undefined, next: at + 1 }
      cells.push(cell)
      rest = after
      continue
    }
    let cell = ''
    rest = rest.slice(1)
    for (;;) {
      const mark: number = rest.indexOf('"')
      if (mark < 0) {
        cell += `${rest}\n`
        rest = lines[++at]
        if (rest === undefined) return { cells: undefined, next: at }
        continue
      }
      cell += rest.slice(0, mark)
      rest = rest.slice(mark + 1)
      if (!rest.startsWith('"')) break
      cell += '"'
      rest = rest.slice(1)
    }
    if (rest !== '' && !rest.startsWith(delimiter)) return { cells: undefined, next: at + 1 }
    cells.push(cell)
    rest = rest === '' ? undefined : rest.slice(1)
  }
  return { cells, next: at + 1 }
}

function cut(text: string, delimiter: string): [string, string | undefined] {
  const at = text.indexOf(delimiter)
  return at < 0 ? [text, undefined] : [text.slice(0, at), text.slice(at + 1)]
}
