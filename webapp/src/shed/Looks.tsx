// Needs a look: what a person should settle, each in a sentence with what can be done.

import { useState } from 'preact/hooks'
import { parseCell } from '../crop/cells'
import { saleLooks } from '../crop/sale_looks'
import { clashesNow } from '../forecast/clashes_now'
import { knownLine } from '../crop/once_ordered'
import { buyerOf } from '../crop/price_of'
import type { AskID, TaskID } from '../crop/ahead_nouns'
import type { CostID, PaymentID, StatementID, WorkID } from '../crop/money_nouns'
import type { BuyerID, Cents, ChannelID, LineID, OrderID, PackedID, StandingID } from '../crop/sale_nouns'
import type { BedID, Day, Farm, PlantID, StockID, Visit, VisitID } from '../crop/nouns'
import { dayName, daysName, t } from '../messages/messages'
import type { Look } from '../sync/notebook'
import { cellName, mostOf } from '../ui/cells'
import { factForWithdrawal } from '../ui/correct'
import { buyerWritten, lineWords } from '../ui/lot_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PackedRight } from '../ui/PackedRight'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { TotalEditor } from '../ui/TotalEditor'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { WhatIs } from '../ui/WhatIs'
import { failureText } from '../ui/words'
import type { Bench } from './bench'
import { ClashLook } from './ClashLook'
import { PlantLookCard } from './PlantLooks'
import { SaleLookCard, saleLookKey } from './SaleLooks'

export function Looks({ bench }: { readonly bench: Bench }) {
  const notebook = useNotebook()
  const looks = notebook.looks.value
  const ofPlants = notebook.farm.value.plantLooks
  const ofSales = saleLooks(notebook.farm.value, today.value)
  const n = looks.length + ofPlants.length + ofSales.length + clashesNow.value.length
  // What was settled last can be taken back, also when nothing else needs a look.
  const doing = useUndoable()
  if (n === 0 && !doing.done && doing.problem === '') return null
  return (
    <section class="looks">
      {n > 0 && <WhatIs of="looks"><h2>{t('looks.title', { n })}</h2></WhatIs>}
      <UndoNote {...doing} />
      {looks.map((look) => <LookCard key={`${look.kind} ${look.type} ${look.id} ${look.field}`} look={look} />)}
      {ofSales.map((look) => <SaleLookCard key={saleLookKey(look)} look={look} bench={bench} doing={doing} />)}
      {clashesNow.value.map((clash) => <ClashLook key={clash.ask.id} clash={clash} doing={doing} />)}
      {ofPlants.map((look) => <PlantLookCard key={`${look.kind} ${look.plants.join()}`} look={look} />)}
    </section>
  )
}

function LookCard({ look }: { readonly look: Look }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const [open, setOpen] = useState(false)
  // One that is withdrawn is not in the farm, and may want a look all the same.
  const visit = look.type === 'visit' ? notebook.visit(look.id as VisitID) : undefined
  const what = whatOf(look, farm, visit)
  if (look.kind === 'withdrawn') return <WithdrawnCard look={look} what={what} />
  const packed = look.type === 'packed' ? farm.sales.packed.get(look.id as PackedID) : undefined
  const n = visit ? notebook.cell(visit.id, look.field).total : packed ? notebook.cell(packed.id, look.field).total : 0
  return (
    <div class="card">
      <p>{t(`looks.${look.kind}`, { what, n })}</p>
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
      {(visit ?? packed) && may.record && !open && <button type="button" class="btn" onClick={() => setOpen(true)}>{t('looks.settle')}</button>}
      {visit && open && <TotalEditor visit={visit} cell={look.field} name={what} most={mostOf(visit)} onDone={() => setOpen(false)} />}
      {packed && open && <PackedRight packed={packed} onDone={() => setOpen(false)} />}
    </div>
  )
}

interface WithdrawnCardProps {
  readonly look: Look
  readonly what: string
}

function WithdrawnCard({ look, what }: WithdrawnCardProps) {
  const notebook = useNotebook()
  const may = useRights()
  const settles = ofCrew.includes(look.type) ? may.record : may.manage
  const [problem, setProblem] = useState('')
  const settle = (withdrawn: boolean) => {
    notebook.record([factForWithdrawal(notebook, look, withdrawn)]).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  return (
    <div class="card">
      <p>{t('looks.withdrawn', { what })}</p>
      {settles ? (
        <div class="buttons">
          <button type="button" class="btn" onClick={() => settle(false)}>{t('looks.restore')}</button>
          <button type="button" class="btn" onClick={() => settle(true)}>{t('looks.leave_out')}</button>
        </div>
      ) : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

/** The types that crew writes as a whole, and so settles. */
const ofCrew: readonly string[] = ['visit', 'packed', 'shrink', 'weather', 'task', 'work']

/** What a look is about: "R4K 7M on 3 June: extra, 50 cm". */
function whatOf(look: Look, farm: Farm, visit: Visit | undefined): string {
  if (look.type !== 'visit') return hasName(look, farm) ?? t('looks.what.other', { id: look.id })
  if (!visit) return t('looks.what.visit')
  const plant = visit.plant === '' ? undefined : farm.plants.get(visit.plant) ?? farm.withdrawn.plants.get(visit.plant)
  const bed = visit.bed === '' ? undefined : farm.beds.get(visit.bed)
  const cell = look.field === '' ? undefined : parseCell(look.field)
  const where = t('looks.what', { subject: plant?.code ?? bed?.name ?? t('bed.unknown'), day: dayName(visit.date, today.value) })
  return cell ? t('looks.what.cell', { where, cell: cellName(farm, cell) }) : where
}

/** What is withdrawn is not among the farm's, and has a name all the same. */
function hasName({ type, id }: Look, farm: Farm): string | undefined {
  const { plants, beds, stocks, withdrawn } = farm
  if (type === 'plant') return (plants.get(id as PlantID) ?? withdrawn.plants.get(id as PlantID))?.code
  if (type === 'stock') return (stocks.get(id as StockID) ?? withdrawn.stocks.get(id as StockID))?.name
  if (type === 'bed') return beds.get(id as BedID)?.name
  return aheadName(type, id, farm) ?? soldName(type, id, farm) ?? bookedName(type, id, farm)
}

/** The same of what lies ahead. */
function aheadName(type: string, id: string, { ahead }: Farm): string | undefined {
  const ask = type === 'ask' ? ahead.asks.get(id as AskID) ?? ahead.goneAsks.get(id as AskID) : undefined
  const task = type === 'task' ? ahead.tasks.get(id as TaskID) ?? ahead.goneTasks.get(id as TaskID) : undefined
  if (ask) return t('looks.what.ask', { n: ask.stems, day: dayName(ask.due, today.value) })
  if (task && task.what !== '') return t('looks.what.task', { what: task.what })
  return type === 'weather' ? t('looks.what.weather', { day: dayName(id as Day, today.value) }) : undefined
}

/** The same of what is paid and worked. */
function bookedName(type: string, id: string, { money, sales }: Farm): string | undefined {
  const sum = (cents: Cents) => amount(cents, sales.terms.currency)
  const cost = type === 'cost' ? money.costs.get(id as CostID) ?? money.goneCosts.get(id as CostID) : undefined
  const work = type === 'work' ? money.work.get(id as WorkID) ?? money.goneWork.get(id as WorkID) : undefined
  const payment = type === 'payment' ? money.payments.get(id as PaymentID) ?? money.gonePayments.get(id as PaymentID) : undefined
  const statement = type === 'statement' ? money.statements.get(id as StatementID) ?? money.goneStatements.get(id as StatementID) : undefined
  if (cost) return t('looks.what.cost', { sum: sum(cost.cents), day: dayName(cost.date, today.value) })
  if (work) return t('looks.what.work', { n: work.minutes, day: dayName(work.date, today.value) })
  if (payment) return t('looks.what.payment', { sum: sum(payment.cents), day: dayName(payment.date, today.value) })
  if (statement) return t('looks.what.statement', { days: daysName(statement.from, statement.to), sum: sum(statement.cents) })
  return type === 'statement_row' ? t('looks.what.statement_row') : undefined
}

/** The same of what is sold. */
function soldName(type: string, id: string, farm: Farm): string | undefined {
  const { sales } = farm
  const packed = type === 'packed' ? sales.packed.get(id as PackedID) : undefined
  const order = type === 'order' ? sales.orders.get(id as OrderID) ?? sales.goneOrders.get(id as OrderID) : undefined
  const standing = type === 'standing' ? sales.standings.get(id as StandingID) ?? sales.goneStandings.get(id as StandingID) : undefined
  if (packed) return t('looks.what.packed', { buyer: buyerWritten(farm, packed.buyer), day: dayName(packed.due, today.value) })
  if (order) return t('looks.what.order', { buyer: buyerWritten(farm, order.buyer), day: dayName(order.due, today.value) })
  if (standing) return t('looks.what.standing', { buyer: buyerWritten(farm, standing.buyer) })
  if (type === 'line' && knownLine(sales, id as LineID)) return t('looks.what.line', { line: lineWords(farm, id as LineID) })
  if (type === 'buyer') return buyerOf(sales, id as BuyerID)?.name
  if (type === 'channel') return (sales.channels.get(id as ChannelID) ?? sales.goneChannels.get(id as ChannelID))?.name
  return undefined
}
