// A view as a table: in which order its rows stand, what is drawn of each, and its file for a spreadsheet.

import { csvText } from '../ui/csv'
import type { Books, Dim, Row } from './books'

/** Dimensions whose places have an order of their own. */
const ordered: readonly Dim[] = ['grade', 'length', 'age', 'age_class', 'day', 'week', 'month']

/** The rows with most left first, or in the order of days, lengths, ages and grades; what is untold comes last. */
export function rowsOf(by: Dim, rows: readonly Row[]): Row[] {
  const told = rows.filter(({ key }) => key !== '')
  if (by === 'grade') told.sort((a, b) => gradeAt(a.key) - gradeAt(b.key))
  else if (by === 'length') told.sort((a, b) => Number.parseInt(a.key) - Number.parseInt(b.key))
  else if (!ordered.includes(by)) told.sort((a, b) => b.left_cents - a.left_cents || (a.key < b.key ? -1 : 1))
  return [...told, ...rows.filter(({ key }) => key === '')]
}

function gradeAt(key: string): number {
  return ['extra', 'first', 'second', 'out'].indexOf(key)
}

/** A row's bar, in hundredths of the view's greatest: a line for what was sold, and what is left of it or lacking. */
export interface Bar {
  readonly sold: number
  readonly left: number
  readonly lacks: boolean
}

export function barsOf(rows: readonly Row[]): Bar[] {
  const most = Math.max(1, ...rows.flatMap(({ gross_cents: sold, left_cents: left }) => [sold, Math.abs(left)]))
  const part = (cents: number) => (Math.max(0, cents) / most) * 100
  return rows.map(({ gross_cents: sold, left_cents: left }) => ({ sold: part(sold), left: part(Math.abs(left)), lacks: left < 0 }))
}

/** RFC 4180: the rows and their sum; amounts in the farm's currency, empty where there is nothing to divide by. */
export function viewCSV({ by, rows, all, unit, currency }: Books, name: (key: string) => string, allName: string): string {
  const columns = [
    by, 'stems', 'bunches', 'sold', 'kept', 'fees', 'fees_paid', 'claims', 'net', 'costs', 'of_costs_fixed', 'work', 'minutes', 'left',
    'price_a_stem', `left_a_bed_${unit === 'ft' ? 'foot' : 'metre'}`, 'left_a_plant', 'an_hour', 'stems_written_off', 'written_off', 'currency',
  ]
  const line = (called: string, row: Row) => [
    called, row.stems, row.bunches, ...[row.gross_cents, row.kept_cents, row.fees_cents, row.fees_paid_cents, row.claims_cents, row.net_cents,
      row.costs_cents, row.fixed_cents, row.work_cents].map(whole), row.minutes, whole(row.left_cents),
    parts(row.price_a_stem), parts(row.ground?.left_a_length), parts(row.ground?.left_a_plant), parts(row.an_hour),
    row.shrunk_stems, whole(row.shrunk_cents), currency,
  ]
  return csvText(columns, [...rows.map((row) => line(name(row.key), row)), line(allName, all)])
}

const whole = (cents: number) => Number((cents / 100).toFixed(2))
const parts = (cents: number | null | undefined) => (cents === null || cents === undefined ? '' : Number((cents / 100).toFixed(6)))
