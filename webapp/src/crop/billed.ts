// What of a line stands on invoices, and which note credits which claim. Mirrors internal/selling/bill.go and credit.go.

import { bunchesPacked } from './over_packed'
import type { ClaimID, Invoice, InvoiceID, LineID, Sales } from './sale_nouns'

export interface Billed {
  /** On invoices that were not called void, less what notes took back. */
  readonly bunches: number
  /** Those invoices, the newest last. */
  readonly invoices: readonly InvoiceID[]
}

interface Books {
  readonly lines: ReadonlyMap<LineID, Billed>
  /** The notes of claims, on invoices that stand. */
  readonly claims: ReadonlyMap<ClaimID, Invoice>
}

const kept = new WeakMap<Sales, Books>()

/** Read once from all invoices, until something of the sales changes. */
function books(sales: Sales): Books {
  const there = kept.get(sales) ?? read(sales)
  kept.set(sales, there)
  return there
}

function read(sales: Sales): Books {
  const lines = new Map<LineID, { bunches: number; invoices: InvoiceID[] }>()
  const claims = new Map<ClaimID, Invoice>()
  const standing = [...sales.invoices.values()].filter((invoice) => stands(sales, invoice)).sort((a, b) => (a.number < b.number ? -1 : 1))
  for (const invoice of standing) {
    const isNote = invoice.credits !== ''
    if (invoice.claim !== '') claims.set(invoice.claim, invoice)
    for (const { line, bunches } of invoice.lines) {
      if (line === '') continue
      const of = lines.get(line) ?? { bunches: 0, invoices: [] }
      lines.set(line, of)
      of.bunches += isNote ? -bunches : bunches
      if (!isNote && !of.invoices.includes(invoice.id)) of.invoices.push(invoice.id)
    }
  }
  return { lines, claims }
}

/** A note stands while its invoice does. */
function stands(sales: Sales, { void: gone, credits }: Invoice): boolean {
  return gone === '' && (credits === '' || (sales.invoices.get(credits)?.void ?? '') === '')
}

export function billedLines(sales: Sales): ReadonlyMap<LineID, Billed> {
  return books(sales).lines
}

/** The note that credits a claim, where one stands. */
export function noteOfClaim(sales: Sales, claim: ClaimID): Invoice | undefined {
  return books(sales).claims.get(claim)
}

/** The notes whose claims were taken away since, those of one line or all. */
export function notesWithoutClaim(sales: Sales, line?: LineID): Invoice[] {
  return [...books(sales).claims].flatMap(([claim, note]) =>
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
  return [...billedLines(sales)].flatMap(([line]) => overBilledLine(sales, line) ?? [])
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
