import { describe, expect, it } from 'vitest'
import { paymentFacts } from './money_facts'
import type { PaymentID } from './money_nouns'
import type { Day } from './nouns'
import { openBills, paidOf, paymentsFor, paymentsOf } from './paid'
import type { BuyerID, Cents, Invoice, InvoiceID } from './sale_nouns'
import { farmSaid } from './testing/said'

const today = '2026-06-30' as Day

function invoice(told: Partial<Invoice> & Pick<Invoice, 'id'>): Invoice {
  return {
    number: told.id, buyer: 'b' as BuyerID, date: '2026-06-04' as Day, payBy: '2026-06-18' as Day, currency: 'EUR', taxRate: 700, void: '', credits: '', claim: '',
    tax: undefined, head: undefined, lines: [{ line: '', due: '', bunches: 10, stems: 10, cents: 10_000 as Cents, words: '' }], ...told,
  }
}

const bill = invoice({ id: 'i' as InvoiceID })
const note = invoice({ id: 'n' as InvoiceID, credits: bill.id, tax: -70 as Cents, lines: [{ line: '', due: '', bunches: 0, stems: 0, cents: -1_000 as Cents, words: '' }] })

function farm(invoices: readonly Invoice[], ...paid: number[]) {
  const said = farmSaid(paid.flatMap((cents, i) => paymentFacts(`p${i}` as PaymentID, { invoice: bill.id, date: `2026-06-2${9 - i}` as Day, cents: cents as Cents })))
  return { ...said, sales: { ...said.sales, invoices: new Map(invoices.map((one) => [one.id, one])), billing: { lines: new Map(), notes: new Map() } } }
}

describe('an invoice of 107.00 with its tax', () => {
  it.each<[string, readonly Invoice[], readonly number[], object]>([
    ['is unpaid', [bill], [], { state: 'unpaid', owed: 10_700, left: 10_700, overdue: true }],
    ['is paid in part', [bill], [5_000], { state: 'part', paid: 5_000, left: 5_700, overdue: true }],
    ['is paid by several payments', [bill], [5_000, 5_700], { state: 'paid', left: 0, overdue: false }],
    ['is paid too much', [bill], [10_800], { state: 'over', left: -100, overdue: false }],
    ['is unpaid once the money was paid back', [bill], [5_000, -5_000], { state: 'unpaid', paid: 0, left: 10_700 }],
    ['owes less for its credit note', [bill, note], [], { state: 'unpaid', owed: 9_630, left: 9_630 }],
    ['was paid before its credit note came', [bill, note], [10_700], { state: 'over', left: -1_070 }],
    ['owes nothing once it is void', [{ ...bill, void: today }], [], { state: 'void', owed: 0, left: 0, overdue: false }],
    ['has money to give back where it was paid and then called void', [{ ...bill, void: today }], [10_700], { state: 'over', left: -10_700 }],
    ['is not overdue on the day by which it is to be paid', [{ ...bill, payBy: today }], [], { state: 'unpaid', overdue: false }],
    ['is never overdue without such a day', [{ ...bill, payBy: '' }], [], { overdue: false }],
  ])('%s', (_, invoices, paid, want) => expect(paidOf(farm(invoices, ...paid), invoices[0]!, today)).toMatchObject(want))
})

it('payments are told the earliest first', () => {
  expect(paymentsOf(farm([bill], 1, 2), bill).map(({ cents }) => cents)).toEqual([2, 1])
  expect(paymentsFor(farm([bill], 1, 2).money, bill.id).map(({ cents }) => cents)).toEqual([2, 1])
})

it('open bills come in the order in which they were due, without notes and what is settled', () => {
  const later = invoice({ id: 'later' as InvoiceID, payBy: '2026-07-01' as Day })
  const settled = invoice({ id: 'settled' as InvoiceID, lines: [] })
  const open = openBills(farm([later, settled, note, bill]), today)
  expect(open.map(({ invoice: one, left, overdue }) => [one.id, left, overdue])).toEqual([['i', 9_630, true], ['later', 10_700, false]])
})
