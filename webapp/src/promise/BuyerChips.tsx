// Choosing who asks: those who ordered last stand first, all others in a list behind them.

import { useMemo } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import type { BuyerID, Sales } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Chip, Chips } from './Chips'

interface BuyerChipsProps {
  readonly farm: Farm
  readonly label: string
  readonly chosen: BuyerID | ''
  readonly onChoose: (buyer: BuyerID | '') => void
}

const shown = 6

export function BuyerChips({ farm: { sales }, label, chosen, onChoose }: BuyerChipsProps) {
  const buyers = useMemo(() => byLastOrder(sales), [sales])
  if (buyers.length === 0) return null
  const first = buyers.slice(0, shown)
  const others = buyers.slice(shown).sort((a, b) => a.name.localeCompare(b.name))
  const isOther = others.some(({ id }) => id === chosen)
  return (
    <Chips label={label}>
      {first.map(({ id, name }) => <Chip key={id} on={id === chosen} onTap={() => onChoose(id === chosen ? '' : id)}>{name}</Chip>)}
      {others.length > 0 && (
        <select class={isOther ? 'btn chip-select on' : 'btn chip-select'} aria-label={t('promise.buyer.others')} value={isOther ? chosen : ''} onChange={(event) => onChoose(event.currentTarget.value as BuyerID | '')}>
          <option value="">{t('promise.buyer.others')}</option>
          {others.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
        </select>
      )}
    </Chips>
  )
}

function byLastOrder(sales: Sales) {
  const last = new Map<BuyerID, string>()
  for (const { buyer, due } of sales.orders.values()) if (due > (last.get(buyer) ?? '')) last.set(buyer, due)
  return [...sales.buyers.values()].sort((a, b) => (last.get(b.id) ?? '').localeCompare(last.get(a.id) ?? '') || a.name.localeCompare(b.name))
}
