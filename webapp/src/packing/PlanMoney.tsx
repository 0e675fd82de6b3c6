// What the plan brings, what one stem or one bunch more would, and how filling the orders from the top would differ. Its
// amounts are the owners'; what differs is everybody's.

import { parseLotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import type { Cents, LineID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { buyerWritten, lotName } from '../ui/lot_words'
import { WhatIs } from '../ui/WhatIs'
import type { DueLine } from './due_lines'
import type { PackingAnswer, PlanMoney as Money } from './packing_answer'
import { kindWritten } from './packing_words'

interface PlanMoneyProps {
  readonly answer: PackingAnswer
  readonly lines: readonly DueLine[]
  readonly part: 'brings' | 'worth'
}

export function PlanMoney({ answer, lines, part }: PlanMoneyProps) {
  const farm = useNotebook().farm.value
  const money = useRights().manage ? answer.money : undefined
  if (part === 'brings') return money && money.revenue > 0 ? <Brings farm={farm} answer={answer} money={money} /> : null
  return (
    <>
      {money && <Worth farm={farm} money={money} lines={lines} />}
      <TopDown farm={farm} answer={answer} money={money} lines={lines} />
    </>
  )
}

function Brings({ farm, answer, money }: { readonly farm: Farm; readonly answer: PackingAnswer; readonly money: Money }) {
  const told = (cents: Cents) => amount(cents, farm.sales.terms.currency)
  return (
    <WhatIs of="commission">
      <p>{answer.proven
        ? t('packing.brings', { amount: told(money.revenue) })
        : t('packing.brings.bound', { amount: told(money.revenue), bound: told(money.bound) })}</p>
    </WhatIs>
  )
}

/** The stems, by kind, of which one more would bring most, and the line of which one bunch more would. */
const mostKinds = 3

function Worth({ farm, money, lines }: { readonly farm: Farm; readonly money: Money; readonly lines: readonly DueLine[] }) {
  const kinds = new Map<string, Cents>()
  for (const [cell, cents] of Object.entries(money.one_stem)) {
    const lot = parseLotCell(cell)
    const kind = lot && lotName(farm, lot)
    if (kind !== undefined && cents > (kinds.get(kind) ?? -1)) kinds.set(kind, cents)
  }
  if (kinds.size === 0) return null
  const told = (cents: Cents) => amount(cents, farm.sales.terms.currency)
  const best = [...kinds].filter(([, cents]) => cents > 0).sort((a, b) => b[1] - a[1]).slice(0, mostKinds)
  const bunch = lines.map((due) => ({ due, cents: money.one_bunch[due.line.id as LineID] ?? 0 as Cents })).sort((a, b) => b.cents - a.cents)[0]
  return (
    <section class="worth">
      <h2>{t('packing.worth')}</h2>
      {best.length === 0 && <p class="small">{t('packing.worth.none')}</p>}
      {best.map(([lot, cents]) => <p key={lot} class="small">{t('packing.worth.some', { lot, amount: told(cents) })}</p>)}
      {bunch && bunch.cents > 0 && (
        <p class="small">{t('packing.worth.bunch', { buyer: buyerWritten(farm, bunch.due.buyer), kind: kindWritten(farm, bunch.due.line, bunch.due.line.colours), amount: told(bunch.cents) })}</p>
      )}
    </section>
  )
}

interface TopDownProps {
  readonly farm: Farm
  readonly answer: PackingAnswer
  readonly money: Money | undefined
  readonly lines: readonly DueLine[]
}

function TopDown({ farm, answer, money, lines }: TopDownProps) {
  if (answer.placed === 0) return null
  const less = money ? (money.revenue - money.top_down) as Cents : undefined
  const said = answer.top_down.length === 0 ? t('packing.top.same')
    : less !== undefined && less > 0 ? t('packing.top.less', { amount: amount(less, farm.sales.terms.currency) }) : t('packing.top.other')
  return (
    <section class="worth">
      <h2>{t('packing.top')}</h2>
      <p class="small">{said}</p>
      <ul>
        {answer.top_down.flatMap(({ line, more, top_down }) => {
          const due = lines.find((one) => one.line.id === line)
          return due ? [(
            <li key={line} class="small">
              {t('packing.top.line', { buyer: buyerWritten(farm, due.buyer), kind: kindWritten(farm, due.line, due.line.colours), top: top_down, more })}
            </li>
          )] : []
        })}
      </ul>
    </section>
  )
}
