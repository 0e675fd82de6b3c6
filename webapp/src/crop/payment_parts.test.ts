import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { withdrawnFact } from './facts'
import { paymentFacts } from './money_facts'
import type { PaymentID } from './money_nouns'
import type { Day } from './nouns'
import { openBills, paidOf, paymentsOf } from './paid'
import { lineFacts } from './sale_facts'
import type { Cents, InvoiceID, LineID, OrderID, StandingID } from './sale_nouns'
import { invoiceSaid } from './testing/billed'
import { farmSaid } from './testing/said'
import { lineWith, orderSaid } from './testing/sold'

interface Case {
  readonly name: string
  readonly gone: readonly string[]
  readonly bills: readonly { readonly id: string; readonly date: Day; readonly void?: Day; readonly credits?: InvoiceID; readonly rows: readonly (readonly [LineID, Cents])[] }[]
  readonly payments: readonly { readonly id: PaymentID; readonly invoice?: InvoiceID; readonly order?: OrderID; readonly cents: Cents }[]
  readonly paid: Readonly<Record<string, number>>
  readonly loose: readonly string[]
}

const { lines, cases } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/payments.json'), 'utf8')) as {
  lines: { id: LineID; order: OrderID | ''; standing: StandingID | '' }[]
  cases: Case[]
}

function farm({ gone, bills, payments }: Case) {
  const orders = [...new Set(lines.flatMap(({ order }) => order || []))]
  const away = (id: string): Fact => withdrawnFact(orders.some((order) => order === id) ? 'order' : 'line', id, true, 'shed')
  return farmSaid(
    orders.flatMap((order) => orderSaid(order, '2026-06-04', lines.filter((line) => line.order === order).map((line) => lineWith(line)))),
    lines.filter(({ order }) => order === '').flatMap((line) => lineFacts(lineWith(line))),
    ...bills.map(({ id, rows, ...told }) => invoiceSaid(id, rows.map(([line, cents]) => ({ line, cents })), told)),
    payments.flatMap(({ id, ...told }, i) => paymentFacts(id, { ...told, date: `2026-06-1${i}` as Day })),
    gone.map(away),
  )
}

it.each(cases)('$name', (one) => {
  const said = farm(one)
  const bills = [...said.sales.invoices.values()].filter(({ credits }) => credits === '')
  expect(Object.fromEntries(bills.map((bill) => [bill.id, paidOf(said, bill, '2026-06-30' as Day).paid]))).toEqual(one.paid)
  const placed = bills.flatMap((bill) => paymentsOf(said, bill)).map(({ payment }) => payment.id)
  expect(one.payments.map(({ id }) => id).filter((id) => !placed.includes(id))).toEqual(one.loose)
})

it('an order that was paid in full leaves nothing open on either of its bills', () => {
  expect(openBills(farm(cases[0]!), '2026-06-30' as Day)).toEqual([])
})

it.each([['2026-06-09', 0], ['2026-06-10', 6000]] as const)('on %s %i cents of a payment of 10 June are there', (day, paid) => {
  const said = farm(cases[0]!)
  expect(paidOf(said, said.sales.invoices.get('1' as InvoiceID)!, day as Day).paid).toBe(paid)
})
