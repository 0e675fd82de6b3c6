// What was spent, season by season: typed one after the other, put right, deleted and brought back.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { type Cost, type CostID } from '../crop/money_nouns'
import type { Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { seasonOf } from '../crop/season'
import { dayAndMonth, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { CostEditor } from './CostEditor'
import { costSeasons, costsIn } from './costs'

export function CostsPage() {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const now = seasonOf(farm.calendar, today.value)
  const [season, setSeason] = useState<Season>(now)
  const [adding, setAdding] = useState(false)
  const { costs, sum, fixed } = costsIn(farm.money, farm.calendar, season)
  const money = (cents: Cents) => amount(cents, farm.sales.terms.currency)
  return (
    <>
      <PageHead title={t('money.costs')} back={href('money')}><SyncChip /></PageHead>
      <div class="page reading money">
        <div class="stays"><UndoNote {...doing} /></div>
        {adding
          ? <CostEditor cost={newCost()} isNew doing={doing} onDone={() => setAdding(false)} />
          : <button type="button" class="btn main" onClick={() => setAdding(true)}>{t('money.cost.new')}</button>}
        <label class="field season-choice">
          <span>{t('money.season')}</span>
          <select value={season} onChange={(event) => setSeason(Number(event.currentTarget.value) as Season)}>
            {costSeasons(farm.money, farm.calendar, now).map((one) => <option key={one} value={one}>{t('season', { year: String(one) })}</option>)}
          </select>
        </label>
        {costs.length === 0 ? <p class="say">{t('money.costs.none')}</p> : (
          <dl class="facts sums">
            <dt>{t('money.costs.sum')}</dt><dd>{money(sum)}</dd>
            <dt>{t('money.costs.fixed')}</dt><dd>{money(fixed)}</dd>
          </dl>
        )}
        <CostRows costs={costs} doing={doing} />
      </div>
    </>
  )
}

function newCost(): Cost {
  return { id: newUUID() as CostID, date: today.peek(), kind: 'supplies', what: '', cents: 0 as Cents, fixed: false, bed: '', stock: '', channel: '' }
}

function CostRows({ costs, doing }: { readonly costs: readonly Cost[]; readonly doing: Undoable }) {
  const [open, setOpen] = useState<CostID | undefined>(undefined)
  return (
    <ul class="rows">
      {costs.map((cost) => (
        <li key={cost.id}>
          {open === cost.id ? <CostEditor cost={cost} doing={doing} onDone={() => setOpen(undefined)} /> : <CostRow cost={cost} onOpen={() => setOpen(cost.id)} />}
        </li>
      ))}
    </ul>
  )
}

function CostRow({ cost, onOpen }: { readonly cost: Cost; readonly onOpen: () => void }) {
  const { beds, stocks, sales } = useNotebook().farm.value
  const about = [
    cost.cents < 0 ? t('money.cost.back.short') : '', t(`money.kind.${cost.kind}`), dayAndMonth(cost.date), cost.fixed ? t('money.cost.fixed.short') : '',
    cost.bed === '' ? '' : beds.get(cost.bed)?.name, cost.stock === '' ? '' : stocks.get(cost.stock)?.name, cost.channel === '' ? '' : sales.channels.get(cost.channel)?.name,
  ]
  return (
    <button type="button" class="line plain" onClick={onOpen}>
      <span><b>{cost.what || t(`money.kind.${cost.kind}`)}</b><span class="small block">{about.filter((part) => part).join(' · ')}</span></span>
      <span class="num">{amount(cost.cents, sales.terms.currency)}</span>
    </button>
  )
}
