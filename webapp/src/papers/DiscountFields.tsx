// A discount for the invoice that is about to be made: a share or an amount, and what is left to pay for the bunches.

import { useState } from 'preact/hooks'
import { discountOf } from '../crop/discount'
import type { Cents } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { type DiscountTyped, readDiscount } from './discount_typed'

interface DiscountFieldsProps {
  readonly typed: DiscountTyped | undefined
  /** What the bunches come to that would be billed. */
  readonly goods: Cents
  readonly onType: (typed: DiscountTyped | undefined) => void
}

export function DiscountFields({ typed, goods, onType }: DiscountFieldsProps) {
  const { currency } = useNotebook().farm.value.sales.terms
  const [kind, setKind] = useState(typed?.kind ?? 'percent')
  if (!typed) return <button type="button" class="btn tall" onClick={() => onType({ kind, text: '' })}>{t('papers.discount')}</button>
  const read = readDiscount(typed, goods)
  const money = (cents: number) => amount(cents as Cents, currency)
  const choose = (one: typeof kind) => { setKind(one); onType({ ...typed, kind: one }) }
  return (
    <div class="card">
      <Choice name={t('papers.discount.in')} value={kind} onChoose={choose} options={[['percent', t('papers.discount.percent')], ['amount', t('papers.discount.amount')]]} />
      <label class="field">
        <span>{kind === 'percent' ? t('papers.discount.how_many') : t('papers.discount.how_much', { currency })}</span>
        <input inputMode="decimal" autocomplete="off" maxLength={12} value={typed.text} onInput={(event) => onType({ ...typed, text: event.currentTarget.value })} />
      </label>
      {typed.text !== '' && (read
        ? <p>{t('papers.discount.leaves', { goods: money(goods), off: money(discountOf(read, goods)), left: money(goods - discountOf(read, goods)) })}</p>
        : <p class="note warn">{t('papers.discount.not', { goods: money(goods) })}</p>)}
      <button type="button" class="btn" onClick={() => onType(undefined)}>{t('papers.discount.none')}</button>
    </div>
  )
}
