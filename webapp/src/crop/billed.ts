// What of a line stands on invoices, and which note credits which claim. Mirrors internal/selling/bill.go and credit.go.

import { afterDiscount } from './discount'
import { LinesFound } from './lines_found'
import { bunchesPacked } from './over_packed'
import type { Billed, Billing, Cents, Claim, ClaimID, Invoice, InvoiceID, InvoiceLine, LineID, Sales } from './sale_nouns'

/** Read once from all invoices, until one of them changes, or a claim. */
export function readBilling({ invoices, claims }: Pick<Sales, 'invoices' | 'claims'>): Billing {
  const lines = new Map<LineID, Map<InvoiceID, Reading>>()
  const notes = new Map<ClaimID, Invoice[]>()
  const standing = [...invoices.values()].filter((invoice) => stands(invoices, invoice)).sort((a, b) => (a.number < b.number ? -1 : 1))
  for (const invoice of standing) if (invoice.credits === '') for (const row of afterDiscount(invoice)) addBilled(lines, invoice, row)
  for (const note of standing) {
    if (note.credits === '') continue
    if (note.claim !== '') notes.set(note.claim, [...notes.get(note.claim) ?? [], note])
    const isMissing = note.claim !== '' && claims.get(note.claim)?.reason === 'missing'
    for (const row of note.lines) takeOff(lines.get(row.line as LineID)?.get(note.credits), row, isMissing)
  }
  return { lines: new Map([...lines].map(([line, on]) => [line, billedOf(on)])), notes }
}

/** A line on one invoice, while its notes are taken off; cents. */
interface Reading {
  bunches: number
  readonly price: number
  left: number
  claimed: number
  missing: number
}

function addBilled(lines: Map<LineID, Map<InvoiceID, Reading>>, { id }: Invoice, { line, bunches, cents }: InvoiceLine): void {
  if (line === '') return
  const on = lines.get(line) ?? new Map<InvoiceID, Reading>()
  lines.set(line, on)
  const before = on.get(id)
  const price = bunches > 0 ? Math.floor(cents / bunches) : 0
  on.set(id, { bunches: bunches + (before?.bunches ?? 0), price, left: cents + (before?.left ?? 0), claimed: 0, missing: 0 })
}

function takeOff(row: Reading | undefined, { bunches, cents }: InvoiceLine, isMissing: boolean): void {
  if (!row) return
  row.bunches -= bunches
  row.left += cents
  if (bunches === 0) row.claimed -= cents
  if (isMissing) row.missing -= cents
}

function billedOf(readings: ReadonlyMap<InvoiceID, Reading>): Billed {
  const on = new Map([...readings].map(([id, { bunches, price, left, claimed, missing }]) =>
    [id, { bunches, left: left as Cents, claimed: claimed as Cents, missing: price > 0 ? Math.floor(missing / price) : 0 }]))
  return { bunches: [...on.values()].reduce((sum, { bunches }) => sum + bunches, 0), on }
}

/** A note stands while its invoice does. */
function stands(invoices: Sales['invoices'], { void: gone, credits }: Invoice): boolean {
  return gone === '' && (credits === '' || (invoices.get(credits)?.void ?? '') === '')
}

export function billedLines(sales: Sales): ReadonlyMap<LineID, Billed> {
  return sales.billing.lines
}

/** What a line's bills that stand charge for so many stems of it, after discounts and before notes; no stems where none does. */
export function chargedFor({ billing, invoices }: Pick<Sales, 'billing' | 'invoices'>, line: LineID): { readonly price: Cents; readonly stems: number } {
  const bills = [...billing.lines.get(line)?.on.keys() ?? []].flatMap((id) => invoices.get(id) ?? [])
  const rows = bills.flatMap(afterDiscount).filter((row) => row.line === line)
  return { price: rows.reduce((sum, { cents }) => sum + cents, 0) as Cents, stems: rows.reduce((sum, { bunches, stems }) => sum + bunches * stems, 0) }
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

/** A line of which more bunches stand on invoices than are packed, or were credited as missing. */
export interface OverBilled {
  readonly line: LineID
  readonly billed: number
  readonly packed: number
  /** Whole bunches that claims were credited as missing: who takes these back in what was packed says it once more. */
  readonly missing: number
  /** The newest that has bunches of it left, on which the difference is credited first. */
  readonly invoice: InvoiceID
}

export function overBilled(sales: Sales): OverBilled[] {
  return [...sales.overBilled].sort().flatMap((line) => overBilledLine(sales, line) ?? [])
}

export function overBilledLine(sales: Sales, line: LineID): OverBilled | undefined {
  const of = billedLines(sales).get(line)
  const packed = bunchesPacked(sales, line)
  const missing = bunchesMissing(of)
  const invoice = of && of.bunches > packed + missing ? [...of.on.keys()].findLast((id) => creditableOn(sales, id, line) > 0) : undefined
  return of && invoice !== undefined ? { line, billed: of.bunches, packed, missing, invoice } : undefined
}

/** Bunches that are still to be credited of it. */
export function stillOver({ billed, packed, missing }: OverBilled): number {
  return billed - packed - missing
}

/** Bunches of a line on an invoice that no note has credited; none where nothing of what it cost is left. */
export function creditableOn(sales: Sales, invoice: InvoiceID, line: LineID): number {
  const on = billedLines(sales).get(line)?.on.get(invoice)
  return on && on.left > 0 ? on.bunches - on.missing : 0
}

/** Whole bunches of a line that claims were credited as missing. */
export function bunchesMissing(of: Billed | undefined): number {
  return [...of?.on.values() ?? []].reduce((sum, { missing }) => sum + missing, 0)
}

/** The notes that take back of an invoice, by number. */
export function notesOn(sales: Sales, id: InvoiceID): Invoice[] {
  return [...sales.invoices.values()].filter((invoice) => invoice.credits === id).sort((a, b) => (a.number < b.number ? -1 : 1))
}

/** Types of facts that change what invoices say. */
const billing = ['invoice', 'claim']

/** Keeps what invoices say, and finds lines that are billed beyond what is packed. */
export class LiveBilling extends LinesFound {
  private read: Billing | undefined

  constructor() {
    super(isOver, (sales) => sales.billing.lines.keys(), billing)
  }

  of(sales: Pick<Sales, 'invoices' | 'claims'>): Billing {
    return this.read ??= readBilling(sales)
  }

  override touch(type: string, before: unknown, now: unknown): void {
    super.touch(type, before, now)
    if (billing.includes(type)) this.read = undefined
  }

  override clear(): void {
    super.clear()
    this.read = undefined
  }
}

function isOver(sales: Sales, line: LineID): boolean {
  const of = sales.billing.lines.get(line)
  return of !== undefined && of.bunches > 0 && of.bunches > bunchesPacked(sales, line) + bunchesMissing(of)
}
