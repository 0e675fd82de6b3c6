// What of a line stands on invoices, and which note credits which claim. Mirrors internal/selling/bill.go and credit.go.

import { bunchesPacked } from './over_packed'
import type { Billed, Billing, Cents, Claim, ClaimID, Invoice, InvoiceID, InvoiceLine, LineID, Packed, Sales } from './sale_nouns'

/** Read once from all invoices, until one of them changes. */
export function readBilling(invoices: Sales['invoices']): Billing {
  const lines = new Map<LineID, OnInvoices>()
  const notes = new Map<ClaimID, Invoice[]>()
  const standing = [...invoices.values()].filter((invoice) => stands(invoices, invoice)).sort((a, b) => (a.number < b.number ? -1 : 1))
  for (const invoice of standing) if (invoice.credits === '') for (const row of invoice.lines) addBilled(lines, invoice, row)
  for (const note of standing) {
    if (note.credits === '') continue
    if (note.claim !== '') notes.set(note.claim, [...notes.get(note.claim) ?? [], note])
    for (const row of note.lines) takeOff(lines.get(row.line as LineID), note.credits, row)
  }
  return { lines: new Map([...lines].map(([line, on]) => [line, billedOf(on)])), notes }
}

/** A line on each invoice that has it: bunches, what one costs, and cents that notes without bunches, those of claims, took off. */
type OnInvoices = Map<InvoiceID, { bunches: number; readonly price: number; claimed: number }>

function addBilled(lines: Map<LineID, OnInvoices>, { id }: Invoice, { line, bunches, cents }: InvoiceLine): void {
  if (line === '') return
  const on: OnInvoices = lines.get(line) ?? new Map<InvoiceID, never>()
  lines.set(line, on)
  on.set(id, { bunches: bunches + (on.get(id)?.bunches ?? 0), price: bunches > 0 ? Math.floor(cents / bunches) : 0, claimed: 0 })
}

function takeOff(on: OnInvoices | undefined, invoice: InvoiceID, { bunches, cents }: InvoiceLine): void {
  const row = on?.get(invoice)
  if (!row) return
  row.bunches -= bunches
  if (bunches === 0) row.claimed -= cents
}

function billedOf(on: OnInvoices): Billed {
  const rows = [...on.values()]
  const credited = new Map([...on].map(([id, { price, claimed }]) => [id, price > 0 ? Math.floor(claimed / price) : 0]))
  return { bunches: rows.reduce((sum, { bunches }) => sum + bunches, 0), invoices: [...on.keys()], credited }
}

/** A note stands while its invoice does. */
function stands(invoices: Sales['invoices'], { void: gone, credits }: Invoice): boolean {
  return gone === '' && (credits === '' || (invoices.get(credits)?.void ?? '') === '')
}

export function billedLines(sales: Sales): ReadonlyMap<LineID, Billed> {
  return sales.billing.lines
}

/** The first note that credits a claim, where one stands. */
export function noteOfClaim(sales: Sales, claim: ClaimID): Invoice | undefined {
  return sales.billing.notes.get(claim)?.[0]
}

/** All that do: one that was raised since has a further note for the difference. */
export function notesOfClaim(sales: Sales, claim: ClaimID): readonly Invoice[] {
  return sales.billing.notes.get(claim) ?? []
}

/** What notes that stand credit of a claim, whatever it says now. */
export function creditedOf(sales: Sales, claim: ClaimID): Cents {
  return notesOfClaim(sales, claim).reduce((sum, { lines }) => lines.reduce((all, { cents }) => all - cents, sum), 0) as Cents
}

/** The notes whose claims were taken away since, those of one line or all; of each claim the first. */
export function notesWithoutClaim(sales: Sales, line?: LineID): Invoice[] {
  return [...sales.billing.notes].flatMap(([claim, [note]]) =>
    (note && !sales.claims.has(claim) && (line === undefined || note.lines.some((row) => row.line === line)) ? [note] : []))
}

/** Claims that say another credit than their notes gave. */
export function claimsUnlikeNotes(sales: Sales): Claim[] {
  return [...sales.billing.notes.keys()].flatMap((id) => {
    const claim = sales.claims.get(id)
    return claim && claim.credit !== creditedOf(sales, id) ? [claim] : []
  })
}

/** A line of which more bunches stand on invoices than are packed, or were credited by claims. */
export interface OverBilled {
  readonly line: LineID
  readonly billed: number
  readonly packed: number
  /** Whole bunches whose price notes of claims credited: stems that were missing are claimed, and then taken back here. */
  readonly credited: number
  /** The newest that has bunches of it left, on which the difference is credited first. */
  readonly invoice: InvoiceID
}

export function overBilled(sales: Sales): OverBilled[] {
  return [...sales.overBilled].sort().flatMap((line) => overBilledLine(sales, line) ?? [])
}

export function overBilledLine(sales: Sales, line: LineID): OverBilled | undefined {
  const on = billedLines(sales).get(line)
  const packed = bunchesPacked(sales, line)
  const credited = creditedBunches(on)
  const invoice = on && on.bunches > packed + credited ? on.invoices.findLast((id) => creditableOn(sales, id, line) > 0) : undefined
  return on && invoice !== undefined ? { line, billed: on.bunches, packed, credited, invoice } : undefined
}

/** Bunches that are still to be credited of it. */
export function stillOver({ billed, packed, credited }: OverBilled): number {
  return billed - packed - credited
}

/** Bunches of a line on an invoice that no note has credited. */
export function creditableOn(sales: Sales, invoice: InvoiceID, line: LineID): number {
  return bunchesLeft(sales, invoice, line) - (billedLines(sales).get(line)?.credited.get(invoice) ?? 0)
}

function creditedBunches(on: Billed | undefined): number {
  return [...on?.credited.values() ?? []].reduce((sum, n) => sum + n, 0)
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
  const on = sales.billing.lines.get(line)
  return on !== undefined && on.bunches > 0 && on.bunches > bunchesPacked(sales, line) + creditedBunches(on)
}
