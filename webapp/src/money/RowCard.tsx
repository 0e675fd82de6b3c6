// A row of a statement: of what it is, how it differs, and one tap to let that stand or to say of which delivery it is.

import { useState } from 'preact/hooks'
import { addDays } from '../crop/day'
import { type Delivered, deliveryKey } from '../crop/delivered'
import type { Statement, StatementRow } from '../crop/money_nouns'
import type { RowFound } from '../crop/reconcile'
import type { Cents } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { deleted, putRight, rowEntry } from './book'
import { DeliveredText, deliveredWords } from './DeliveredText'
import { RowEditor } from './RowEditor'
import { SelectField } from './SelectField'
import { deliveriesTo } from './statements'

interface RowCardProps {
  readonly found: RowFound
  readonly statement: Statement
  readonly doing: Undoable
}

export function RowCard({ found, statement, doing }: RowCardProps) {
  const [open, setOpen] = useState(false)
  const { row, verdict } = found
  const differs = verdict !== 'agrees' && !row.settled
  if (verdict === 'left_out') return <LeftOut found={found} doing={doing} />
  return (
    <li class={differs ? 'card differs' : 'card'}>
      {open ? <RowEditor row={row} doing={doing} onDone={() => setOpen(false)} /> : <RowLine row={row} onOpen={() => setOpen(true)} />}
      <p class={differs ? 'verdict differs' : 'verdict'}><Icon name={differs ? 'warn' : 'check'} /><Verdict found={found} /></p>
      {verdict !== 'agrees' && found.of.map((one) => <DeliveredText key={deliveryKey(one)} delivered={one} />)}
      {(verdict !== 'agrees' || row.line !== '') && <Settle found={found} statement={statement} doing={doing} />}
    </li>
  )
}

function RowLine({ row, onOpen }: { readonly row: StatementRow; readonly onOpen: () => void }) {
  const { currency } = useNotebook().farm.value.sales.terms
  const day = row.date === '' ? t('money.row.no_day') : dayName(row.date, today.value)
  const kept = row.kept === 0 ? '' : t('money.row.kept', { sum: amount(row.kept, currency) })
  return (
    <button type="button" class="line plain row-line" onClick={onOpen}>
      <span><b class="sentence">{day}{row.words !== '' && `: ${row.words}`}</b><span class="small block">{[t('money.row.bunches', { n: row.bunches }), kept].filter((part) => part !== '').join(' · ')}</span></span>
      <span class="num">{amount(row.cents, currency)}</span>
    </button>
  )
}

function Verdict({ found: { row, verdict, of, bunchesOff, centsOff } }: { readonly found: RowFound }) {
  const farm = useNotebook().farm.value
  const off = amount(Math.abs(centsOff) as Cents, farm.sales.terms.currency)
  const bunches = bunchesOff === 0 ? '' : t(bunchesOff > 0 ? 'money.verdict.bunches.more' : 'money.verdict.bunches.less', { n: Math.abs(bunchesOff) })
  const cents = centsOff === 0 ? '' : t(centsOff > 0 ? 'money.verdict.amount.more' : 'money.verdict.amount.less', { sum: off })
  const said = verdict === 'agrees' ? t('money.verdict.agrees', { what: of.map((one) => deliveredWords(farm, one)).join('; ') })
    : verdict === 'not_ours' ? t('money.verdict.not_ours')
      : [bunches, cents].filter((part) => part !== '').join(' ')
  return <span>{row.settled && verdict !== 'agrees' ? t('money.verdict.settled', { said }) : said}</span>
}

/** Several deliveries may be meant: those of some days around it that a row may be of. */
const around = 14

function Settle({ found: { row, verdict }, statement, doing }: RowCardProps) {
  const farm = useNotebook().farm.value
  const change = (part: Partial<StatementRow>, said: string) => void doing.act(() => ({ ...putRight(rowEntry(row), rowEntry({ ...row, ...part })), said }))
  const choices = choicesFor(row, statement, deliveriesTo(farm.sales, statement.channel))
  const choose = (key: string) => {
    const one = choices.find((each) => deliveryKey(each) === key)
    change({ line: one?.line ?? '', due: one?.due ?? '' }, one ? t('money.said.named') : t('money.said.found'))
  }
  return (
    <div class="settle">
      {choices.length > 0 && (
        <SelectField label={t('money.row.of')} value={row.line === '' ? '' : deliveryKey(row)} none={t('money.row.of.found')}
          options={choices.map((one) => [deliveryKey(one), deliveredWords(farm, one)])} onChoose={choose} />
      )}
      {verdict !== 'agrees' && !row.settled && <button type="button" class="btn" onClick={() => change({ settled: true }, t('money.said.stands'))}>{t('money.let_stand')}</button>}
      {verdict !== 'agrees' && row.settled && <button type="button" class="btn" onClick={() => change({ settled: false }, t('money.said.open'))}>{t('money.open_again')}</button>}
    </div>
  )
}

function choicesFor(row: StatementRow, { from, to }: Statement, all: readonly Delivered[]): Delivered[] {
  const [first, last] = row.date === '' ? [from, to] : [addDays(row.date, -around), addDays(row.date, around)]
  return all.filter((one) => (one.due >= first && one.due <= last) || (one.line === row.line && one.due === row.due))
}

/** Says only that a delivery stands on no row and that this was looked at. */
function LeftOut({ found: { row, of }, doing }: { readonly found: RowFound; readonly doing: Undoable }) {
  return (
    <li class="card">
      <p class="verdict"><Icon name="check" /><span>{t('money.verdict.left_out')}</span></p>
      {of.map((one) => <DeliveredText key={deliveryKey(one)} delivered={one} />)}
      <button type="button" class="btn" onClick={() => void doing.act(() => ({ ...deleted(rowEntry(row)), said: t('money.said.open') }))}>{t('money.open_again')}</button>
    </li>
  )
}
