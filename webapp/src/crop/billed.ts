// What of a line stands on invoices, and which note credits which claim. Mirrors internal/selling/bill.go and credit.go.

import { bunchesPacked } from './over_packed'
import type { Billed, Billing, ClaimID, Invoice, InvoiceID, LineID, Packed, Sales } from './sale_nouns'

/** Read once from all invoices, until one of them changes. */
export function readBilling(invoices: Sales['invoices']): Billing {
  const lines = new Map<LineID, { bunches: number; invoices: InvoiceID[] }>()
  const notes = new Map<ClaimID, Invoice>()
  const standing = [...invoices.values()].filter((invoice) => stands(invoices, invoice)).sort((a, b) => (a.number < b.number ? -1 : 1))
  for (const invoice of standing) {
    const isNote = invoice.credits !== ''
    if (invoice.claim !== '') notes.set(invoice.claim, invoice)
    for (const { line, bunches } of invoice.lines) {
      if (line === '') continue
      const of = lines.get(line) ?? { bunches: 0, invoices: [] }
      lines.set(line, of)
      of.bunches += isNote ? -bunches : bunches
      if (!isNote && !of.invoices.includes(invoice.id)) of.invoices.push(invoice.id)
    }
  }
  return { lines, notes }
}

/** A note stands while its invoice does. */
function stands(invoices: Sales['invoices'], { void: gone, credits }: Invoice): boolean {
  return gone === '' && (credits === '' || (invoices.get(credits)?.void ?? '') === '')
}

export function billedLines(sales: Sales): ReadonlyMap<LineID, Billed> {
  return sales.billing.lines
}

/** The note that credits a claim, where one stands. */
export function noteOfClaim(sales: Sales, claim: ClaimID): Invoice | undefined {
  return sales.billing.notes.get(claim)
}

/** The notes whose claims were taken away since, those of one line or all. */
export function notesWithoutClaim(sales: Sales, line?: LineID): Invoice[] {
  return [...sales.billing.notes].flatMap(([claim, note]) =>
    (!sales.claims.has(claim) && (line === undefined || note.lines.some((row) => row.line === line)) ? [note] : []))
}

/** A line of which more bunches stand on invoices than are packed. */
export interface OverBilled {
  readonly line: LineID
  readonly billed: number
  readonly packed: number
  /** The newest that has bunches of it left, on which the difference is credited first. */
  readonly invoice: InvoiceID
}

export function overBilled(sales: Sales): OverBilled[] {
  return [...sales.overBilled].sort().flatMap((line) => overBilledLine(sales, line) ?? [])
}

export function overBilledLine(sales: Sales, line: LineID): OverBilled | undefined {
  const on = billedLines(sales).get(line)
  const packed = bunchesPacked(sales, line)
  const invoice = on && on.bunches > packed ? on.invoices.findLast((id) => bunchesLeft(sales, id, line) > 0) : undefined
  return on && invoice !== undefined ? { line, billed: on.bunches, packed, invoice } : undefined
}

/** Bunches of a line on an invoice, less those that its notes took back. */
export function bunchesLeft(sales: Sales, invoice: InvoiceID, line: LineID): number {
  const of = (one: Invoice | undefined) => (one?.lines ?? []).reduce((sum, row) => (row.line === line ? sum + row.bunches : sum), 0)
  return of(sales.invoices.get(invoice)) - notesOn(sales, invoice).reduce((sum, note) => sum + of(note), 0)
}

/** The notes that take back of an invoice, by number. */
export function notesOn(sales: Sales, id: InvoiceID): Invoice[] {
  return [...sales.invoices.values()].filter((invoice) => invoice.credits === id).sort((a, b) => (a.number < b.number ? -1 : 1))
}

/** Keeps what invoices say, and finds lines that are billed beyond what is packed by a look at those that changed. */
export class LiveBilling {
  /** Another set when it changes. */
  found: ReadonlySet<LineID> = new Set()
  private read: Billing | undefined
  private readonly touched = new Set<LineID>()
  private all = false

  of(invoices: Sales['invoices']): Billing {
    return this.read ??= readBilling(invoices)
  }

  /** A tap on a packing screen touches one line; an invoice is written seldom, and then all are looked at. */
  touch(type: string, before: unknown, now: unknown): void {
    if (type === 'packed') for (const packed of [before, now] as (Packed | undefined)[]) if (packed) this.touched.add(packed.line)
    if (type !== 'invoice') return
    this.read = undefined
    this.all = true
  }

  clear(): void {
    this.found = new Set()
    this.read = undefined
    this.touched.clear()
    this.all = false
  }

  /** Tells whether it found others than before. */
  settle(sales: Sales): boolean {
    if (!this.all && this.touched.size === 0) return false
    const found = new Set(this.all ? [] : this.found)
    for (const line of this.all ? sales.billing.lines.keys() : this.touched) {
      if (isOver(sales, line)) found.add(line)
      else found.delete(line)
    }
    this.touched.clear()
    this.all = false
    const same = found.size === this.found.size && [...found].every((line) => this.found.has(line))
    if (!same) this.found = found
    return !same
  }
}

function isOver(sales: Sales, line: LineID): boolean {
  const billed = sales.billing.lines.get(line)?.bunches ?? 0
  return billed > 0 && billed > bunchesPacked(sales, line)
}
