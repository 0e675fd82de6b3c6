// What channels say they sold, the newest first, each with how many differences are open.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Statement, StatementID } from '../crop/money_nouns'
import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Cents, ChannelID, Sales } from '../crop/sale_nouns'
import { daysName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { StatementEditor } from './StatementEditor'
import { reconciled } from './statements'

export function StatementsPage() {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const [adding, setAdding] = useState(false)
  const found = reconciled(farm)
  const all = [...farm.money.statements.values()].sort((a, b) => (a.to < b.to ? 1 : a.to > b.to ? -1 : a.id < b.id ? -1 : 1))
  return (
    <>
      <PageHead title={t('money.statements')} back={href('money')}><SyncChip /></PageHead>
      <div class="page reading money">
        <div class="stays"><UndoNote {...doing} /></div>
        <p class="small">{t('money.statements.why')}</p>
        {adding
          ? <StatementEditor statement={newStatement(farm.sales)} isNew doing={doing} onDone={(saved) => (saved ? go('money', 'statement', saved) : setAdding(false))} />
          : <button type="button" class="btn main" onClick={() => setAdding(true)}>{t('money.statement.new')}</button>}
        {all.length === 0 && <p class="say">{t('money.statements.none')}</p>}
        <ul class="rows">
          {all.map((one) => (
            <li key={one.id}>
              <a class="line plain" href={href('money', 'statement', one.id)}>
                <span><b>{channelName(farm.sales, one.channel)}</b><span class="small block">{daysName(one.from, one.to)} · {openText(found.get(one.id)?.open ?? 0)}</span></span>
                <span class="num">{amount(one.cents, farm.sales.terms.currency)}</span>
              </a>
            </li>
          ))}
        </ul>
      </div>
    </>
  )
}

export function openText(open: number): string {
  return open === 0 ? t('money.statement.settled') : t('money.statement.open', { n: open })
}

export function channelName({ channels, goneChannels }: Sales, id: ChannelID): string {
  return (channels.get(id) ?? goneChannels.get(id))?.name || t('money.channel.unknown')
}

/** Of the month before, for the farm's only co-op where it has one. */
function newStatement({ channels }: Sales): Statement {
  const firstOfMonth = `${today.peek().slice(0, 7)}-01` as Day
  const to = addDays(firstOfMonth, -1)
  const coOps = [...channels.values()].filter(({ kind }) => kind === 'co_op')
  const only = coOps.length === 1 ? coOps[0]!.id : ('' as ChannelID)
  return { id: newUUID() as StatementID, channel: only, from: `${to.slice(0, 7)}-01` as Day, to, paid: '', cents: 0 as Cents, note: '' }
}
