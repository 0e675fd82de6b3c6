// What is written into the farm's books at one tap: entered, put right, taken away and brought back.

import { changing, type Deed, together } from '../crop/deed'
import { costFacts, moneyWithdrawn, paymentFacts, rowFacts, statementFacts } from '../crop/money_facts'
import type { Cost, CostID, Payment, PaymentID, RowID, Statement, StatementID, StatementRow } from '../crop/money_nouns'
import type { Fact } from '../log/change'

/** A noun of the books. */
export interface Entry {
  readonly type: 'cost' | 'payment' | 'statement' | 'statement_row'
  readonly id: CostID | PaymentID | StatementID | RowID
  readonly facts: readonly Fact[]
}

export const costEntry = (cost: Cost): Entry => ({ type: 'cost', id: cost.id, facts: costFacts(cost.id, cost) })
export const paymentEntry = (payment: Payment): Entry => ({ type: 'payment', id: payment.id, facts: paymentFacts(payment.id, payment) })
export const statementEntry = (statement: Statement): Entry => ({ type: 'statement', id: statement.id, facts: statementFacts(statement.id, statement) })
export const rowEntry = (row: StatementRow): Entry => ({ type: 'statement_row', id: row.id, facts: rowFacts(row.id, row) })

/** Of a new entry; taking it back withdraws it. */
export function entered({ type, id, facts }: Entry): Deed {
  return { facts, undo: [moneyWithdrawn(type, id, true)] }
}

/** What of an entry is told otherwise; nothing else is said anew. */
export function putRight(before: Entry, now: Entry): Deed {
  return changing(before.facts, now.facts)
}

export function deleted({ type, id }: Pick<Entry, 'type' | 'id'>): Deed {
  return { facts: [moneyWithdrawn(type, id, true)], undo: [moneyWithdrawn(type, id, false)] }
}

/** A statement goes with its rows: a row of none would be counted by nobody. */
export function statementDeleted(statement: Pick<Statement, 'id'>, rows: readonly Pick<StatementRow, 'id'>[]): Deed {
  return together(deleted({ type: 'statement', id: statement.id }), ...rows.map(({ id }) => deleted({ type: 'statement_row', id })))
}
