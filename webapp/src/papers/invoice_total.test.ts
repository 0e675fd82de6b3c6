import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { notesOn } from '../crop/billed'
import { noSales } from '../crop/live_sales'
import type { Cents, Invoice, InvoiceID, InvoiceLine, Sales } from '../crop/sale_nouns'
import { invoicesIn, months, monthsShown } from './invoice_list'
import { leftOf, totalsOf } from '../crop/invoice_total'

interface TaxCase { readonly name: string; readonly rows: number[]; readonly rate: number; readonly net: number; readonly tax: number; readonly total: number }
interface NotesCase { readonly name: string; readonly rows: number[]; readonly rate: number; readonly notes: { readonly net: number; readonly tax: number; readonly old?: boolean }[]; readonly left: number[] }
const { cases, notes: ofNotes } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/tax.json'), 'utf8')) as { cases: TaxCase[]; notes: NotesCase[] }

function row(cents: number, told: Partial<InvoiceLine> = {}): InvoiceLine {
  return { line: '', due: '', bunches: 0, stems: 0, cents: cents as Cents, words: '', ...told }
}

function invoice(id: string, told: Partial<Invoice> = {}): Invoice {
  return {
    id: id as InvoiceID, number: id, buyer: 'b' as Invoice['buyer'], date: '2026-06-04' as Invoice['date'], payBy: '', currency: 'EUR', taxRate: 0, lines: [],
    void: '', credits: '', claim: '', tax: undefined, head: undefined, ...told,
  }
}

function salesWith(...invoices: readonly Invoice[]): Sales {
  return { ...noSales(), invoices: new Map(invoices.map((one) => [one.id, one])) }
}

it.each(cases.map((one) => [one.name, one] as const))('tax: %s', (_, { rows, rate, net, tax, total }) => {
  expect(totalsOf({ lines: rows.map((cents) => row(cents)), taxRate: rate, tax: undefined })).toEqual({ net, tax, total })
})

it.each(ofNotes.map((one) => [one.name, one] as const))('tax of notes: %s', (_, { rows, rate, notes, left }) => {
  const invoiced = { lines: rows.map((cents) => row(cents)), taxRate: rate, tax: undefined }
  const made = notes.map(({ net, tax, old }) => ({ lines: [row(net)], taxRate: rate, tax: old ? undefined : (tax as Cents) }))
  expect(made.map((note) => totalsOf(note).tax)).toEqual(notes.map(({ tax }) => tax))
  expect([0, ...made.keys()].map((n, i) => leftOf(invoiced, made.slice(0, i === 0 ? 0 : n + 1)))).toEqual(left)
})

it('what is left to pay is each paper’s own total together, as they were printed', () => {
  const of = (cents: number) => ({ lines: [row(cents)], taxRate: 700, tax: undefined })
  expect(leftOf(of(2160), [of(-520), of(-1640)])).toBe(0)
  expect(leftOf(of(150), [of(-75)])).toBe(161 - 80)
})

it('lists by buyer and month, the newest first, and an invoice’s notes by number', () => {
  const sales = salesWith(
    invoice('2026-BCD-0001', { date: '2026-05-31' as Invoice['date'] }), invoice('2026-BCD-0002'),
    invoice('2026-BCD-0003', { buyer: 'c' as Invoice['buyer'], credits: '2026-BCD-0002' as InvoiceID }), invoice('2026-BCD-0004', { credits: '2026-BCD-0002' as InvoiceID }),
  )
  const numbers = (list: readonly Invoice[]) => list.map(({ number }) => Number(number.slice(-1)))
  const listed = (buyer: Invoice['buyer'] | '', ...shown: string[]) => invoicesIn(sales, buyer, shown).map(([month, list]) => [month, numbers(list)])
  expect(listed('', '2026-06', '2026-05')).toEqual([['2026-06', [4, 3, 2]], ['2026-05', [1]]])
  expect(listed('b' as Invoice['buyer'], '2026-06')).toEqual([['2026-06', [4, 2]]])
  expect([months(sales, ''), months(sales, 'c' as Invoice['buyer'])]).toEqual([['2026-06', '2026-05'], ['2026-06']])
  expect(numbers(notesOn(sales, '2026-BCD-0002' as InvoiceID))).toEqual([3, 4])
})

const year = ['2026-06', '2026-05', '2026-03', '2025-12']

it.each([
  ['the newest month where none was asked for', '', 0, ['2026-06']],
  ['earlier months one by one', '', 2, ['2026-06', '2026-05', '2026-03']],
  ['the month that was asked for', '2026-03', 0, ['2026-03']],
  ['earlier ones than that', '2026-03', 1, ['2026-03', '2025-12']],
  ['no more than there are', '2026-03', 9, ['2026-03', '2025-12']],
  ['the month before one that has none', '2026-04', 0, ['2026-03']],
  ['the newest where none was as early', '2025-01', 0, ['2026-06']],
] as const)('draws %s', (_, from, earlier, shown) => {
  expect(monthsShown(year, { buyer: '', from, earlier })).toEqual(shown)
})

it('draws nothing where there is nothing', () => {
  expect(monthsShown([], { buyer: '', from: '2026-06', earlier: 1 })).toEqual([])
})
