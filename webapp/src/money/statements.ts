// The statements of a farm's channels against what was delivered, worked out once until either changes.

import { type Delivered, deliveredTo } from '../crop/delivered'
import type { Money, Statement, StatementID, StatementRow } from '../crop/money_nouns'
import type { Farm } from '../crop/nouns'
import { type Reconciled, reconcile } from '../crop/reconcile'
import type { ChannelID, Sales } from '../crop/sale_nouns'

/** By statement. */
export type AllReconciled = ReadonlyMap<StatementID, Reconciled>

let last: { readonly money: Money; readonly sales: Sales; readonly found: AllReconciled } | undefined

let delivered: { readonly sales: Sales; readonly to: Map<ChannelID, readonly Delivered[]> } | undefined

/** What was delivered to a channel, looked up once until anything that is sold changes. */
export function deliveriesTo(sales: Sales, channel: ChannelID): readonly Delivered[] {
  if (delivered?.sales !== sales) delivered = { sales, to: new Map() }
  const found = delivered.to.get(channel) ?? deliveredTo(sales, channel)
  delivered.to.set(channel, found)
  return found
}

export function reconciled({ money, sales }: Pick<Farm, 'money' | 'sales'>): AllReconciled {
  if (last?.money === money && last.sales === sales) return last.found
  const found = new Map<StatementID, Reconciled>()
  for (const [channel, statements] of byChannel(money)) {
    const rows = statements.flatMap(({ id }) => rowsOf(money, id))
    for (const [id, one] of reconcile(statements, rows, deliveriesTo(sales, channel))) found.set(id, one)
  }
  last = { money, sales, found }
  return found
}

export function openDifferences(farm: Pick<Farm, 'money' | 'sales'>): number {
  return [...reconciled(farm).values()].reduce((sum, { open }) => sum + open, 0)
}

export function rowsOf({ rows, rowsOf: of }: Pick<Money, 'rows' | 'rowsOf'>, statement: StatementID): StatementRow[] {
  return [...of.get(statement) ?? []].flatMap((id) => rows.get(id) ?? [])
}

function byChannel({ statements }: Pick<Money, 'statements'>): Map<ChannelID, Statement[]> {
  const found = new Map<ChannelID, Statement[]>()
  for (const one of statements.values()) found.set(one.channel, [...found.get(one.channel) ?? [], one])
  return found
}
