// What taking a spreadsheet in would do, before it is done.

import type { Deed } from '../crop/deed'
import type { Day, Farm } from '../crop/nouns'
import { maxOperationChanges } from '../log/check'
import { t } from '../messages/messages'
import { brokenProblems, Cells, type DateForm, type SheetProblem } from './cells'
import type { Match } from './columns'
import type { Sheet } from './sheet'

export interface SheetPlan {
  /** In the order of their lines; with any, nothing of the file is taken. */
  readonly problems: readonly SheetProblem[]
  /** Sentences of what would be added and changed. */
  readonly would: readonly string[]
  /** Rows that say what stands on the farm already. */
  readonly same: number
  readonly deed: Deed
  /** Names of channels that the farm does not have, of which somebody has to say what they are. */
  readonly channels?: readonly string[]
}

export interface Reading {
  readonly sheet: Sheet
  readonly match: Match
  readonly form: DateForm
  readonly farm: Farm
  readonly today: Day
  readonly newID: () => string
}

/** The rows to read, and where their problems gather. */
export function opened({ sheet, match, form, today }: Reading): { readonly rows: Cells[]; readonly problems: SheetProblem[] } {
  const problems = brokenProblems(sheet)
  return { rows: sheet.rows.map((row) => new Cells(row, match, problems, form, today)), problems }
}

/** The plan, or the problems that it meets; one operation holds only so much. */
export function planned(problems: readonly SheetProblem[], plan: Omit<SheetPlan, 'problems'>): SheetPlan {
  const most = maxOperationChanges - 1
  const changes = Math.max(plan.deed.facts.length, plan.deed.undo.length)
  const tooMany = problems.length === 0 && changes > most ? [{ line: 1, column: undefined, text: t('sheets.wrong.too_many', { changes, most }) }] : []
  const all = [...problems, ...tooMany].sort((a, b) => a.line - b.line)
  const nothing = { would: [], same: 0, deed: { facts: [], undo: [] } }
  return { ...plan, problems: all, ...(all.length > 0 && nothing) } // what is asked about stays: its answer may be the problem
}

/** Nouns are the same by name, whatever its case. */
export function nameKey(name: string): string {
  return name.normalize('NFC').trim().toLowerCase()
}

/** Finds nouns by name, and makes those that are missing: each once. */
export class Named<T extends { readonly name: string }> {
  private readonly found = new Map<string, T>()
  readonly made: T[] = []

  constructor(there: Iterable<T>, private readonly make: (name: string) => T) {
    for (const one of there) if (!this.found.has(nameKey(one.name))) this.found.set(nameKey(one.name), one)
  }

  /** undefined where there is none of this name. */
  find(name: string): T | undefined {
    return this.found.get(nameKey(name))
  }

  of(name: string): T {
    const known = this.find(name)
    if (known) return known
    const one = this.make(name)
    this.made.push(one)
    this.found.set(nameKey(name), one)
    return one
  }
}
