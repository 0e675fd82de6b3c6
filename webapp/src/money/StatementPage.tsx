// One statement: its foot against its rows, its rows against what was delivered, and what stands on no row.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Delivered } from '../crop/delivered'
import type { RowID, Statement, StatementID, StatementRow } from '../crop/money_nouns'
import type { Foot, Reconciled } from '../crop/reconcile'
import type { Cents } from '../crop/sale_nouns'
import { dayName, daysName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { entered, rowEntry } from './book'
import { DeliveredText } from './DeliveredText'
import { PasteRows } from './PasteRows'
import { RowCard } from './RowCard'
import { TypeRows } from './TypeRows'
import { StatementEditor } from './StatementEditor'
import { channelName, openText } from './StatementsPage'
import { reconciled } from './statements'

export function StatementPage({ id }: { readonly id: string }) {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const statement = farm.money.statements.get(id as StatementID)
  const found = statement && reconciled(farm).get(statement.id)
  return (
    <>
      <PageHead title={statement ? channelName(farm.sales, statement.channel) : t('money.statement')} back={href('money', 'statements')}><SyncChip /></PageHead>
      <div class="page money statement">
        <div class="stays"><UndoNote {...doing} /></div>
        {statement && found ? <OfStatement statement={statement} found={found} doing={doing} /> : <p class="note">{t('money.statement.gone')}</p>}
      </div>
    </>
  )
}

function OfStatement({ statement, found, doing }: { readonly statement: Statement; readonly found: Reconciled; readonly doing: Undoable }) {
  const place = Math.max(0, ...found.rows.map(({ row }) => row.place)) + 1
  return (
    <>
      <p class="say">{found.rows.length === 0 ? t('money.statement.no_rows') : openText(found.open)}</p>
      <div class="columns">
        <div>
          <StatementHead statement={statement} foot={found.foot} doing={doing} />
          <TypeRows statement={statement} place={place} doing={doing} />
          <PasteRows statement={statement} place={place} doing={doing} />
        </div>
        <div>
          {found.rows.length > 0 && <h2>{t('money.rows')}</h2>}
          <ul class="statement-rows">{found.rows.map((one) => <RowCard key={one.row.id} found={one} statement={statement} doing={doing} />)}</ul>
          <Missing statement={statement} missing={found.missing} place={place} doing={doing} />
        </div>
      </div>
    </>
  )
}

function StatementHead({ statement, foot, doing }: { readonly statement: Statement; readonly foot: Foot; readonly doing: Undoable }) {
  const { currency } = useNotebook().farm.value.sales.terms
  const [changing, setChanging] = useState(false)
  const money = (cents: Cents) => amount(cents, currency)
  if (changing) return <StatementEditor statement={statement} doing={doing} onDone={() => setChanging(false)} />
  return (
    <section class="card">
      <p><b>{daysName(statement.from, statement.to)}</b><span class="small block">{statement.paid === '' ? t('money.statement.awaited') : t('money.statement.paid_on', { day: dayName(statement.paid, today.value) })}{statement.note !== '' && ` · ${statement.note}`}</span></p>
      <dl class="facts sums">
        <dt>{t('money.foot.gross')}</dt><dd>{money(foot.gross)}</dd>
        <dt>{t('money.foot.kept')}</dt><dd>{money(foot.kept)}</dd>
        <dt>{t('money.foot.net')}</dt><dd>{money(foot.net)}</dd>
        <dt>{t('money.foot.printed')}</dt><dd>{money(foot.printed)}</dd>
      </dl>
      {foot.off !== 0 && <p class="note warn">{t(foot.off > 0 ? 'money.foot.more' : 'money.foot.less', { sum: money(Math.abs(foot.off) as Cents) })}</p>}
      <button type="button" class="btn" onClick={() => setChanging(true)}>{t('money.statement.change')}</button>
    </section>
  )
}

interface MissingProps {
  readonly statement: Statement
  readonly missing: readonly Delivered[]
  readonly place: number
  readonly doing: Undoable
}

/** What was delivered and stands on no statement: one tap lets it stand. */
function Missing({ statement, missing, place, doing }: MissingProps) {
  if (missing.length === 0) return null
  const letStand = ({ line, due }: Delivered) => {
    const row: StatementRow = {
      id: newUUID() as RowID, statement: statement.id, place, date: '', words: '', bunches: 0, cents: 0 as Cents, kept: 0 as Cents, line, due, settled: true,
    }
    void doing.act(() => ({ ...entered(rowEntry(row)), said: t('money.said.stands') }))
  }
  return (
    <section>
      <h2>{t('money.missing', { n: missing.length })}</h2>
      <ul class="statement-rows">
        {missing.map((one) => (
          <li key={`${one.due} ${one.line}`} class="card differs">
            <DeliveredText delivered={one} />
            <button type="button" class="btn" onClick={() => letStand(one)}>{t('money.let_stand')}</button>
          </li>
        ))}
      </ul>
    </section>
  )
}
