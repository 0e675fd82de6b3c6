import { describe, expect, it } from 'vitest'
import type { Cost, CostID, Payment, PaymentID, RowID, Statement, StatementID, StatementRow } from '../crop/money_nouns'
import type { Day, Season } from '../crop/nouns'
import type { Cents, ChannelID, InvoiceID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { costEntry, deleted, entered, paymentEntry, putRight, rowEntry, statementDeleted, statementEntry } from './book'
import { costSeasons, costsIn } from './costs'
import { costForm, paymentForm, readCost, readPayment, readRow, readStatement, rowForm, statementForm } from './forms'

const today = '2026-06-30' as Day
const cost: Cost = { id: 'co' as CostID, date: '2026-03-14' as Day, kind: 'plants', what: 'plugs', cents: 34950 as Cents, fixed: false, bed: '', stock: '', channel: '' }
const payment: Payment = { id: 'pa' as PaymentID, order: '', invoice: 'in' as InvoiceID, date: today, cents: -150 as Cents, note: '' }
const statement: Statement = { id: 'st' as StatementID, channel: 'ch' as ChannelID, from: '2026-06-01' as Day, to: today, paid: '', cents: 5280 as Cents, note: '' }
const row: StatementRow = {
  id: 'r' as RowID, statement: statement.id, place: 1, date: '2026-06-11' as Day, words: 'white', bunches: -2, cents: -1100 as Cents, kept: -220 as Cents, line: '', due: '', settled: false,
}

it('a refund is typed as it stands on the paper, and is below 0 in the books', () => {
  const refund = { ...cost, cents: -1850 as Cents }
  expect(costForm(refund)).toMatchObject({ amount: '18.50', back: true })
  expect(readCost(costForm(refund), today)).toEqual({ entry: refund })
  expect(readCost({ ...costForm(refund), back: false }, today)).toEqual({ entry: { ...refund, cents: 1850 } })
})

describe('what is entered', () => {
  it('is there, and gone once it is taken back', () => {
    for (const entry of [costEntry(cost), paymentEntry(payment), statementEntry(statement), rowEntry(row)]) {
      const { facts, undo } = entered(entry)
      const held = (all: typeof facts[]) => { const { costs, payments, statements, rows } = farmSaid(...all).money; return costs.size + payments.size + statements.size + rows.size }
      expect([held([facts]), held([facts, undo])]).toEqual([1, 0])
    }
  })
  it('is put right in what differs alone, and back', () => {
    const now: Cost = { ...cost, cents: 100 as Cents, fixed: true, what: '' }
    const { facts, undo } = putRight(costEntry(cost), costEntry(now))
    expect(facts.map(({ field }) => field).sort()).toEqual(['cents', 'fixed', 'what'])
    expect(farmSaid(costEntry(cost).facts, facts).money.costs.get(cost.id)).toEqual(now)
    expect(farmSaid(costEntry(cost).facts, facts, undo).money.costs.get(cost.id)).toEqual(cost)
  })
  it('is deleted and brought back, a statement with its rows', () => {
    const said = [statementEntry(statement).facts, rowEntry(row).facts]
    const { facts, undo } = statementDeleted(statement, [row])
    const held = (...more: (typeof facts)[]) => { const { statements, rows } = farmSaid(...said, ...more).money; return [statements.size, rows.size] }
    expect([held(facts), held(facts, undo)]).toEqual([[0, 0], [1, 1]])
    expect(deleted(costEntry(cost)).facts).toHaveLength(1)
  })
})

it('costs are listed season by season, the newest first, with what is fixed', () => {
  const rent: Cost = { ...cost, id: 'rent' as CostID, date: '2026-05-01' as Day, cents: 50 as Cents, fixed: true }
  const { money, calendar } = farmSaid(costEntry(cost).facts, costEntry(rent).facts, costEntry({ ...cost, id: 'old' as CostID, date: '2024-03-14' as Day }).facts)
  const found = costsIn(money, calendar, 2026 as Season)
  expect([found.costs.map(({ id }) => id), found.sum, found.fixed]).toEqual([['rent', 'co'], 35000, 50])
  expect(costSeasons(money, calendar, 2027 as Season)).toEqual([2027, 2026, 2024])
})

describe('what is typed is read as it stands', () => {
  it.each<[string, unknown, unknown]>([
    ['a cost', readCost(costForm(cost), today), cost], ['a payment', readPayment(paymentForm(payment), today), payment],
    ['a statement', readStatement(statementForm(statement), today), statement],
    ['a row', readRow(rowForm(row)), { date: row.date, words: row.words, bunches: row.bunches, cents: row.cents, kept: row.kept }],
  ])('%s', (_, read, want) => expect(read).toEqual({ entry: want }))
})

describe('what cannot be is told', () => {
  it.each<[string, unknown, string]>([
    ['a cost of nothing', readCost({ ...costForm(cost), amount: '0' }, today), 'amount'],
    ['a cost below nothing', readCost({ ...costForm(cost), amount: '-5' }, today), 'amount'],
    ['a cost to come', readCost({ ...costForm(cost), day: '2026-07-01' }, today), 'future'],
    ['a cost on no day', readCost({ ...costForm(cost), day: '' }, today), 'day'],
    ['a payment of nothing', readPayment({ ...paymentForm(payment), amount: '' }, today), 'amount'],
    ['a statement of no channel', readStatement({ ...statementForm(statement), channel: '' as ChannelID }, today), 'channel'],
    ['a statement that ends before it begins', readStatement({ ...statementForm(statement), to: '2026-05-30' }, today), 'order'],
    ['a statement without a foot', readStatement({ ...statementForm(statement), amount: '' }, today), 'amount'],
    ['a statement that was paid tomorrow', readStatement({ ...statementForm(statement), paid: '2026-07-01' }, today), 'future'],
    ['a row on no day', readRow({ ...rowForm(row), day: '2026-06-31' }), 'day'],
    ['a row of parts of bunches', readRow({ ...rowForm(row), bunches: '1.5' }), 'bunches'],
    ['a row without an amount', readRow({ ...rowForm(row), amount: '' }), 'amount'],
  ])('%s', (_, read, problem) => expect(read).toEqual({ problem }))

  it('but what is empty on purpose', () => {
    expect(readRow({ day: '', words: '', bunches: '', amount: '0', kept: '' })).toEqual({ entry: { date: '', words: '', bunches: 0, cents: 0, kept: 0 } })
  })
})
