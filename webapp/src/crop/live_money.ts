// What is paid and worked kept up to date entity by entity.

import { withdrawn } from '../log/read'
import type { Entity, EntityKey } from '../log/state'
import type { CostID, Money, PaymentID, RowID, StatementID, WorkID } from './money_nouns'
import { readCost, readPayment, readStatement, readStatementRow, readWork } from './money_read'
import type { InvoiceID } from './sale_nouns'

export class LiveMoney {
  private readonly maps = emptyMaps()
  private now: Money | undefined

  /** The same object until something of it changes. */
  get money(): Money {
    this.now ??= { ...this.maps }
    return this.now
  }

  /** Takes an entity of what is paid and worked; what is withdrawn counts as gone. */
  take(key: EntityKey, entity: Entity | undefined): void {
    const gone = entity !== undefined && withdrawn(entity) ? entity : undefined
    const here = gone ? undefined : entity
    const { costs, work, workOn, payments, paymentsOf, statements, rows, rowsOf } = this.maps
    switch (key.type) {
      case 'cost':
        put(costs, key.id as CostID, here && readCost(here))
        put(this.maps.goneCosts, key.id as CostID, gone && readCost(gone))
        break
      case 'work':
        putUnder(work, workOn, key.id as WorkID, here && readWork(here), ({ date }) => date)
        put(this.maps.goneWork, key.id as WorkID, gone && readWork(gone))
        break
      case 'payment':
        putUnder(payments, paymentsOf, key.id as PaymentID, here && readPayment(here), ({ invoice, order }) => (invoice || order) as InvoiceID)
        put(this.maps.gonePayments, key.id as PaymentID, gone && readPayment(gone))
        break
      case 'statement':
        put(statements, key.id as StatementID, here && readStatement(here))
        put(this.maps.goneStatements, key.id as StatementID, gone && readStatement(gone))
        break
      case 'statement_row':
        putUnder(rows, rowsOf, key.id as RowID, here && readStatementRow(here), ({ statement }) => statement)
        break
      default:
        return
    }
    this.now = undefined
  }

  clear(): void {
    for (const map of Object.values(this.maps)) map.clear()
    this.now = undefined
  }
}

/** What is paid and worked on a farm before the first entry. */
export function noMoney(): Money {
  return new LiveMoney().money
}

function put<K, V>(map: Map<K, V>, key: K, value: V | undefined): void {
  if (value === undefined) map.delete(key)
  else map.set(key, value)
}

/** Keeps the index of what is filed under something beside the map. */
function putUnder<K, V, U>(map: Map<K, V>, index: Map<U, Set<K>>, key: K, value: V | undefined, under: (value: V) => U): void {
  const before = map.get(key)
  if (before !== undefined) {
    const filed = index.get(under(before))
    filed?.delete(key)
    if (filed?.size === 0) index.delete(under(before))
  }
  put(map, key, value)
  if (value === undefined) return
  const filed = index.get(under(value))
  if (filed) filed.add(key)
  else index.set(under(value), new Set([key]))
}

type Mutable<T> = T extends ReadonlyMap<infer K, infer V> ? Map<K, V extends ReadonlySet<infer E> ? Set<E> : V> : never

function emptyMaps() {
  const map = <K extends keyof Money>() => new Map() as Mutable<Money[K]>
  return {
    costs: map<'costs'>(), work: map<'work'>(), workOn: map<'workOn'>(), payments: map<'payments'>(), paymentsOf: map<'paymentsOf'>(),
    statements: map<'statements'>(), rows: map<'rows'>(), rowsOf: map<'rowsOf'>(),
    goneCosts: map<'goneCosts'>(), goneWork: map<'goneWork'>(), gonePayments: map<'gonePayments'>(), goneStatements: map<'goneStatements'>(),
  }
}
