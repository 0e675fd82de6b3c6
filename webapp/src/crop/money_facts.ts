// What is paid and worked, written as facts. Mirrors internal/farm/money_facts.go. A field that is not given stays as it is.
// All but work is of scope money, which only owners read.

import type { Fact } from '../log/change'
import { Facts, withdrawnFact } from './facts'
import type { Cost, CostID, Payment, PaymentID, RowID, Statement, StatementID, StatementRow, Work, WorkID } from './money_nouns'

export function costFacts(id: CostID, c: Partial<Omit<Cost, 'id'>>): Fact[] {
  const facts = new Facts('cost', id, 'money').given('date', c.date).given('kind', c.kind).given('what', c.what).given('cents', c.cents)
  return facts.given('fixed', flag(c.fixed)).given('bed', c.bed).given('stock', c.stock).given('channel', c.channel).list
}

/** For which channel it was is of scope money: crew gives none. */
export function workFacts(id: WorkID, w: Partial<Omit<Work, 'id'>>): Fact[] {
  const field = new Facts('work', id).given('date', w.date).given('person', w.person).given('kind', w.kind).given('minutes', w.minutes)
  field.given('bed', w.bed).given('note', w.note)
  return [...field.list, ...new Facts('work', id, 'money').given('channel', w.channel).list]
}

export function paymentFacts(id: PaymentID, p: Partial<Omit<Payment, 'id'>>): Fact[] {
  return new Facts('payment', id, 'money').told('invoice', p.invoice ?? '').told('order', p.order ?? '').given('date', p.date).given('cents', p.cents).given('note', p.note).list
}

export function statementFacts(id: StatementID, s: Partial<Omit<Statement, 'id'>>): Fact[] {
  const facts = new Facts('statement', id, 'money').given('channel', s.channel).given('since', s.from).given('last', s.to)
  return facts.given('paid', s.paid).given('cents', s.cents).given('note', s.note).list
}

export function rowFacts(id: RowID, r: Partial<Omit<StatementRow, 'id'>>): Fact[] {
  const facts = new Facts('statement_row', id, 'money').given('statement', r.statement).given('place', r.place).given('date', r.date)
  facts.given('words', r.words).given('bunches', r.bunches).given('cents', r.cents).given('kept', r.kept)
  return facts.given('of', r.line).given('due', r.due).given('settled', flag(r.settled)).list
}

/** Takes one of them away, or brings it back. */
export function moneyWithdrawn(type: 'cost' | 'payment' | 'statement' | 'statement_row', id: CostID | PaymentID | StatementID | RowID, on: boolean): Fact {
  return withdrawnFact(type, id, on, 'money')
}

export function workWithdrawn(id: WorkID, on: boolean): Fact {
  return withdrawnFact('work', id, on)
}

function flag(on: boolean | undefined): number | undefined {
  return on === undefined ? undefined : on ? 1 : 0
}
