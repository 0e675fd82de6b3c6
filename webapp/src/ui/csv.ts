// Files for a spreadsheet.

/** RFC 4180, with the mark by which spreadsheets know UTF-8. */
export function csvText(columns: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  return `\uFEFF${[columns.join(), ...rows.map((row) => row.map(field).join())].join('\r\n')}\r\n`
}

/** What a spreadsheet would take for a formula is marked as a text, in full-width signs too (OWASP, CSV Injection). */
function field(value: string | number): string {
  if (typeof value === 'number') return String(value)
  const safe = formula.test(value) ? `'${value}` : value
  return `"${safe.replaceAll('"', '""')}"`
}

/** Apostrophes before it are those of a guard, so that each text comes back as it was. Mirrors internal/tables/csv.go. */
const formula = /^'*[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/

/** A text as it was before it was marked. */
export function unguarded(text: string): string {
  return text.startsWith("'") && formula.test(text.slice(1)) ? text.slice(1) : text
}
