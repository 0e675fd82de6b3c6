import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { Fact, Value } from '../log/change'
import type { EntityType } from './facts'
import { LiveFarm } from './live'
import { costFacts, moneyWithdrawn, paymentFacts, rowFacts, statementFacts, workFacts, workWithdrawn } from './money_facts'
import { type Cost, type CostID, costKinds, type Money, type Payment, type PaymentID, type RowID, type Statement, type StatementID, type StatementRow, type Work, type WorkID, workKinds } from './money_nouns'
import type { Day } from './nouns'
import type { InvoiceID } from './sale_nouns'
import { farmID, farmSaid, stateSaid } from './testing/said'

interface Vector<T> {
  readonly name: string
  readonly id: string
  readonly fields: Record<string, Value>
  readonly want: T
}

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/money.json'), 'utf8')) as {
  cost_kinds: string[]
  work_kinds: string[]
  costs: Vector<Cost>[]
  work: Vector<Work>[]
  payments: Vector<Payment>[]
  statements: Vector<Statement>[]
  rows: Vector<StatementRow>[]
}

function told(type: EntityType, { id, fields }: Vector<unknown>): Fact[] {
  return Object.entries(fields).map(([field, value]) => ({ scope: 'money', op: 'set', type, id, field, value }))
}

it('the kinds are those of the vectors, in their order', () => {
  expect([costKinds, workKinds]).toEqual([vectors.cost_kinds, vectors.work_kinds])
})

/** As it is read from the fields of a vector, and from the facts that it is written as. */
function both<T>(type: EntityType, vector: Vector<T>, written: readonly Fact[], map: (money: Money) => ReadonlyMap<unknown, T>): void {
  expect([...map(farmSaid(told(type, vector)).money).values()]).toEqual([vector.want])
  expect([...map(farmSaid(written).money).values()]).toEqual([vector.want])
}

describe('a cost', () => {
  it.each(vectors.costs)('$name', (v) => both('cost', v, costFacts(v.want.id, v.want), ({ costs }) => costs))
})
describe('work', () => {
  it.each(vectors.work)('$name', (v) => both('work', v, workFacts(v.want.id, v.want), ({ work }) => work))
})
describe('a payment', () => {
  it.each(vectors.payments)('$name', (v) => both('payment', v, paymentFacts(v.want.id, v.want), ({ payments }) => payments))
})
describe('a statement', () => {
  it.each(vectors.statements)('$name', (v) => both('statement', v, statementFacts(v.want.id, v.want), ({ statements }) => statements))
})
describe('a row of a statement', () => {
  it.each(vectors.rows)('$name', (v) => both('statement_row', v, rowFacts(v.want.id, v.want), ({ rows }) => rows))
})

const cost = 'co' as CostID
const work = 'w' as WorkID
const payment = 'pa' as PaymentID
const row = 'r' as RowID
const [first, second] = ['2026-05-28' as Day, '2026-05-29' as Day]
const [one, other] = ['i1' as InvoiceID, 'i2' as InvoiceID]

it('only the channel of work is an owner’s to know, and all of the rest', () => {
  const facts = [...workFacts(work, vectors.work[0]!.want), workWithdrawn(work, true)]
  expect(facts.filter(({ scope }) => scope === 'money').map(({ field }) => field)).toEqual(['channel'])
  const others = [
    ...costFacts(cost, vectors.costs[0]!.want), ...paymentFacts(payment, vectors.payments[0]!.want), ...rowFacts(row, vectors.rows[0]!.want),
    ...statementFacts('st' as StatementID, vectors.statements[0]!.want), moneyWithdrawn('cost', cost, true), moneyWithdrawn('statement_row', row, true),
  ]
  expect(others.every(({ scope }) => scope === 'money')).toBe(true)
})

it('what is taken away is gone, until it is brought back', () => {
  const said = [costFacts(cost, vectors.costs[0]!.want), workFacts(work, vectors.work[0]!.want)]
  const gone = [moneyWithdrawn('cost', cost, true), workWithdrawn(work, true)]
  const back = [moneyWithdrawn('cost', cost, false), workWithdrawn(work, false)]
  expect(farmSaid(...said, gone).money).toMatchObject({ costs: new Map(), work: new Map(), workOn: new Map(), goneCosts: new Map([[cost, { ...vectors.costs[0]!.want }]]), goneWork: new Map([[work, vectors.work[0]!.want]]) })
  expect(farmSaid(...said, gone, back).money).toEqual(farmSaid(...said).money)
})

describe('while changes come', () => {
  const live = () => {
    const farm = new LiveFarm(farmID)
    farm.replace(stateSaid(workFacts(work, { date: first, minutes: 5 }), paymentFacts(payment, { invoice: one })))
    return farm
  }
  const tell = (farm: LiveFarm, facts: readonly Fact[]) => farm.update([...stateSaid(facts)].map((entity) => [entity.key, entity] as const))

  it('it is another object after a change of it, and the same after any other', () => {
    const farm = live()
    const before = farm.farm.peek().money
    tell(farm, [{ scope: 'field', op: 'set', type: 'bed', id: 'b', field: 'name', value: 'North' }])
    expect(farm.farm.peek().money).toBe(before)
    tell(farm, costFacts(cost, { date: first }))
    expect(farm.farm.peek().money).not.toBe(before)
  })
  it('work that gets another day, and a payment another invoice, are found there alone', () => {
    const farm = live()
    tell(farm, workFacts(work, { date: second }))
    tell(farm, paymentFacts(payment, { invoice: other }))
    const { workOn, paymentsOf } = farm.farm.peek().money
    expect([workOn, paymentsOf]).toEqual([new Map([[second, new Set([work])]]), new Map([[other, new Set([payment])]])])
  })
  it('what is read anew holds nothing of before', () => {
    const farm = live()
    farm.replace([])
    expect(Object.values(farm.farm.peek().money).map(({ size }) => size)).toEqual(Array.from({ length: 12 }, () => 0))
  })
})
