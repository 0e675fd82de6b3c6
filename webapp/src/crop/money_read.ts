// Reading what is paid and worked from merged entities. Mirrors internal/farm/money_read.go.

import { int, text } from '../log/read'
import type { Entity } from '../log/state'
import type {
  Cost, CostID, CostKind, Payment, PaymentID, RowID, Statement, StatementID, StatementRow, Work, WorkID, WorkKind,
} from './money_nouns'
import type { BedID, Day, PersonID, StockID } from './nouns'
import type { Cents, ChannelID, InvoiceID, LineID, OrderID } from './sale_nouns'

export function readCost(e: Entity): Cost {
  return {
    id: e.key.id as CostID, date: text(e, 'date') as Day, kind: text(e, 'kind') as CostKind, what: text(e, 'what'), cents: int(e, 'cents') as Cents,
    fixed: int(e, 'fixed') === 1, bed: text(e, 'bed') as BedID | '', stock: text(e, 'stock') as StockID | '', channel: text(e, 'channel') as ChannelID | '',
  }
}

export function readWork(e: Entity): Work {
  return {
    id: e.key.id as WorkID, date: text(e, 'date') as Day, person: text(e, 'person') as PersonID | '', kind: text(e, 'kind') as WorkKind,
    minutes: int(e, 'minutes'), bed: text(e, 'bed') as BedID | '', channel: text(e, 'channel') as ChannelID | '', note: text(e, 'note'),
  }
}

export function readPayment(e: Entity): Payment {
  return {
    id: e.key.id as PaymentID, invoice: text(e, 'invoice') as InvoiceID | '', order: text(e, 'order') as OrderID | '', date: text(e, 'date') as Day, cents: int(e, 'cents') as Cents, note: text(e, 'note'),
  }
}

export function readStatement(e: Entity): Statement {
  return {
    id: e.key.id as StatementID, channel: text(e, 'channel') as ChannelID, from: text(e, 'since') as Day, to: text(e, 'last') as Day,
    paid: text(e, 'paid') as Day | '', cents: int(e, 'cents') as Cents, note: text(e, 'note'),
  }
}

export function readStatementRow(e: Entity): StatementRow {
  return {
    id: e.key.id as RowID, statement: text(e, 'statement') as StatementID, place: int(e, 'place'), date: text(e, 'date') as Day | '', words: text(e, 'words'),
    bunches: int(e, 'bunches'), cents: int(e, 'cents') as Cents, kept: int(e, 'kept') as Cents, line: text(e, 'of') as LineID | '',
    due: text(e, 'due') as Day | '', settled: int(e, 'settled') === 1,
  }
}
