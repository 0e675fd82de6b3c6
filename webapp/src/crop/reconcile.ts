// A channel's statements against what was delivered to it, row by row: what agrees, what differs, what is not ours, and what
// was delivered and stands on none.
//
// The rule: a row is of the delivery that a person named. Every other row is matched to a delivery that nobody named and that
// lies within a few days of the row's (or, without a day, within the statement's): first where bunches and amount are the
// same; then to all that is left of one day where the sums are; then where the bunches are, then where the amount is; last
// where one row and one delivery have nobody else. As many as can be are matched, the nearest days first.

import { addDays, daysBetween } from './day'
import { type Delivered, deliveryKey } from './delivered'
import type { RowID, Statement, StatementID, StatementRow } from './money_nouns'
import type { Day } from './nouns'
import type { Cents } from './sale_nouns'

/** How many days a row's day may lie from the delivery's: a market day after it, or the day on which it was sold. */
export const mostDaysApart = 4

export type Verdict = 'agrees' | 'amount' | 'bunches' | 'both' | 'not_ours' | 'left_out'

export interface RowFound {
  readonly row: StatementRow
  readonly verdict: Verdict
  /** Of which it is; none where it is not ours, several where one row is of a whole day. */
  readonly of: readonly Delivered[]
  /** What all rows of these deliveries say beyond them: below 0 where the statement says less. */
  readonly bunchesOff: number
  readonly centsOff: Cents
}

export interface Reconciled {
  /** In the order of the paper; those that say only that a delivery is left out come last. */
  readonly rows: readonly RowFound[]
  /** Delivered in the statement's days, and on none. */
  readonly missing: readonly Delivered[]
  readonly foot: Foot
  /** Rows that differ and were not settled, what is missing, and a foot that does not add up. */
  readonly open: number
}

export interface Foot {
  readonly gross: Cents
  readonly kept: Cents
  /** Gross less kept: what the rows say that is paid. */
  readonly net: Cents
  readonly printed: Cents
  /** Printed less net. */
  readonly off: Cents
}

/** Of all statements of one channel at once, so that a delivery stands on one of them. Of every delivery to it. */
export function reconcile(statements: readonly Statement[], rows: readonly StatementRow[], delivered: readonly Delivered[]): Map<StatementID, Reconciled> {
  const matched = new Matching(statements, rows, delivered).result()
  return new Map(statements.map((statement) => [statement.id, ofStatement(statement, rows, matched, delivered)]))
}

function ofStatement(statement: Statement, all: readonly StatementRow[], matched: Matched, delivered: readonly Delivered[]): Reconciled {
  const rows = all.filter((row) => row.statement === statement.id).sort((a, b) => Number(isLeftOut(a)) - Number(isLeftOut(b)) || a.place - b.place || (a.id < b.id ? -1 : 1))
  const found = rows.map((row) => judged(row, matched))
  const missing = delivered.filter((one) => one.due >= statement.from && one.due <= statement.to && !matched.rowsOf.has(one))
  const foot = footOf(statement, rows)
  const differs = found.filter(({ row, verdict }) => verdict !== 'agrees' && !row.settled).length
  return { rows: found, missing, foot, open: differs + missing.length + (foot.off === 0 ? 0 : 1) }
}

function footOf({ cents: printed }: Statement, rows: readonly StatementRow[]): Foot {
  const gross = rows.reduce((sum, { cents }) => sum + cents, 0) as Cents
  const kept = rows.reduce((sum, row) => sum + row.kept, 0) as Cents
  const net = (gross - kept) as Cents
  return { gross, kept, net, printed, off: (printed - net) as Cents }
}

/** Whether a row is no row of the paper: it says that a delivery does not stand there and that this was looked at. */
export function isLeftOut({ line, bunches, cents, kept, settled }: StatementRow): boolean {
  return line !== '' && bunches === 0 && cents === 0 && kept === 0 && settled
}

function judged(row: StatementRow, { of, rowsOf }: Matched): RowFound {
  const mine = of.get(row.id) ?? []
  if (mine.length === 0) return { row, verdict: 'not_ours', of: mine, bunchesOff: row.bunches, centsOff: row.cents }
  const rows = new Set(mine.flatMap((one) => rowsOf.get(one) ?? []))
  const said = [...rows].reduce((sum, one) => ({ bunches: sum.bunches + one.bunches, cents: sum.cents + one.cents }), { bunches: 0, cents: 0 })
  const bunchesOff = said.bunches - sumOf(mine, ({ bunches }) => bunches)
  const worth = mine.every(({ gross }) => gross !== undefined) ? sumOf(mine, netOf) : said.cents
  const centsOff = (said.cents - worth) as Cents
  return { row, verdict: isLeftOut(row) ? 'left_out' : verdictOf(bunchesOff, centsOff), of: mine, bunchesOff, centsOff }
}

function verdictOf(bunchesOff: number, centsOff: number): Verdict {
  if (bunchesOff === 0) return centsOff === 0 ? 'agrees' : 'amount'
  return centsOff === 0 ? 'bunches' : 'both'
}

function netOf({ gross, credited }: Delivered): number {
  return (gross ?? 0) - credited
}

function sumOf(all: readonly Delivered[], of: (one: Delivered) => number): number {
  return all.reduce((sum, one) => sum + of(one), 0)
}

interface Matched {
  readonly of: ReadonlyMap<RowID, readonly Delivered[]>
  readonly rowsOf: ReadonlyMap<Delivered, readonly StatementRow[]>
}

type Fits = (row: StatementRow, one: Delivered) => boolean

const sameBunches: Fits = (row, { bunches }) => row.bunches === bunches
/** Before or after what claims were credited; of what has no price every amount is. */
const sameAmount: Fits = ({ cents }, one) => one.gross === undefined || cents === one.gross || cents === netOf(one)
const pricedAlike: Fits = (row, one) => one.gross !== undefined && sameAmount(row, one)

class Matching {
  private readonly of = new Map<RowID, Delivered[]>()
  private readonly rowsOf = new Map<Delivered, StatementRow[]>()
  private readonly statements: ReadonlyMap<StatementID, Statement>
  private readonly dueOn = new Map<Day, Delivered[]>()
  /** Those of `dueOn`, in order. */
  private readonly days: readonly Day[]

  constructor(statements: readonly Statement[], private readonly rows: readonly StatementRow[], private readonly delivered: readonly Delivered[]) {
    this.statements = new Map(statements.map((one) => [one.id, one]))
    for (const one of delivered) {
      const all = this.dueOn.get(one.due)
      if (all) all.push(one)
      else this.dueOn.set(one.due, [one])
    }
    this.days = [...this.dueOn.keys()].sort()
  }

  result(): Matched {
    this.takeSaid()
    this.pair((row, one) => sameBunches(row, one) && sameAmount(row, one))
    this.takeDays()
    this.pair(sameBunches)
    this.pair(pricedAlike)
    this.takeLonely()
    return { of: this.of, rowsOf: this.rowsOf }
  }

  private take(row: StatementRow, ...all: readonly Delivered[]): void {
    this.of.set(row.id, [...all])
    for (const one of all) this.rowsOf.set(one, [...this.rowsOf.get(one) ?? [], row])
  }

  private takeSaid(): void {
    const known = new Map(this.delivered.map((one) => [deliveryKey(one), one]))
    for (const row of this.rows) {
      const one = row.line === '' ? undefined : known.get(deliveryKey(row))
      if (one) this.take(row, one)
    }
  }

  /** Rows that nobody matched, and of which nobody said that they are of another delivery. */
  private openRows(): StatementRow[] {
    return this.rows.filter((row) => !this.of.has(row.id) && row.line === '' && this.statements.has(row.statement))
  }

  /** What a row may be of: deliveries that are nobody's yet, within its days. A year has thousands: they are found by day. */
  private reachOf(row: StatementRow): Delivered[] {
    const { from, to } = this.statements.get(row.statement)!
    const [first, last] = row.date === '' ? [from, to] : [addDays(row.date, -mostDaysApart), addDays(row.date, mostDaysApart)]
    return this.days.slice(firstFrom(this.days, first), firstFrom(this.days, addDays(last, 1))).flatMap((day) => this.dueOn.get(day)!.filter((one) => !this.rowsOf.has(one)))
  }

  /** Matches as many as can be (augmenting paths), beginning with the nearest days. */
  private pair(fits: Fits): void {
    const rows = this.openRows()
    const near = rows.flatMap((row) => this.reachOf(row).filter((one) => fits(row, one)).map((one) => ({ row, one, apart: apart(row, one) })))
      .sort((a, b) => a.apart - b.apart || (deliveryKey(a.one) < deliveryKey(b.one) ? -1 : 1))
    const reach = new Map<StatementRow, Delivered[]>(rows.map((row) => [row, []]))
    for (const { row, one } of near) reach.get(row)!.push(one)
    const taken = new Map<Delivered, StatementRow>()
    const placed = new Set<StatementRow>()
    for (const { row, one } of near) {
      if (placed.has(row) || taken.has(one)) continue
      taken.set(one, row)
      placed.add(row)
    }
    for (const row of rows) if (!placed.has(row)) augment(row, reach, taken, new Set())
    for (const [one, row] of taken) this.take(row, one)
  }

  /** A row that is of all that is left of one day. */
  private takeDays(): void {
    for (const row of this.openRows()) {
      const byDay = new Map<string, Delivered[]>()
      for (const one of this.reachOf(row)) byDay.set(one.due, [...byDay.get(one.due) ?? [], one])
      const whole = [...byDay.values()].filter((all) => all.length > 1 && sumOf(all, ({ bunches }) => bunches) === row.bunches && all.every(({ gross }) => gross !== undefined)
        && (sumOf(all, ({ gross }) => gross ?? 0) === row.cents || sumOf(all, netOf) === row.cents))
      const [best] = whole.sort((a, b) => nearer(row, a[0]!, b[0]!))
      if (best) this.take(row, ...best)
    }
  }

  /** One row and one delivery that have nobody else within reach. */
  private takeLonely(): void {
    const reach = this.openRows().map((row) => [row, this.reachOf(row)] as const)
    const wanted = new Map<Delivered, number>()
    for (const [, all] of reach) for (const one of all) wanted.set(one, (wanted.get(one) ?? 0) + 1)
    for (const [row, [one, ...others]] of reach) if (one && others.length === 0 && wanted.get(one) === 1) this.take(row, one)
  }
}

/** Days between a row and a delivery within its reach; of a row without a day all are as near. */
function apart({ date }: StatementRow, { due }: Delivered): number {
  return date === '' ? mostDaysApart : Math.abs(daysBetween(due, date))
}

function nearer(row: StatementRow, a: Delivered, b: Delivered): number {
  return apart(row, a) - apart(row, b) || (deliveryKey(a) < deliveryKey(b) ? -1 : 1)
}

/** Where the first of some days lies that is no earlier than a day. */
function firstFrom(days: readonly Day[], day: Day): number {
  let [low, high] = [0, days.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (days[middle]! < day) low = middle + 1
    else high = middle
  }
  return low
}

/** Finds a delivery for a row, moving others to deliveries that do for them as well. */
function augment(row: StatementRow, reach: ReadonlyMap<StatementRow, readonly Delivered[]>, taken: Map<Delivered, StatementRow>, tried: Set<Delivered>): boolean {
  for (const one of reach.get(row) ?? []) {
    if (tried.has(one)) continue
    tried.add(one)
    const holder = taken.get(one)
    if (holder && !augment(holder, reach, taken, tried)) continue
    taken.set(one, row)
    return true
  }
  return false
}
