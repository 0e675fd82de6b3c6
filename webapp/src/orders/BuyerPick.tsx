// Choosing a buyer among hundreds: who ordered last stands first, and a few letters find any.

import { useMemo, useState } from 'preact/hooks'
import { channelOf } from '../crop/price_of'
import type { BuyerID, Sales } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { href } from '../ui/route'
import { buyersFound } from './buyers'
import { lastOrders } from './order_form'

interface BuyerPickProps {
  readonly sales: Sales
  readonly onPick: (buyer: BuyerID) => void
}

const shown = 12

export function BuyerPick({ sales, onPick }: BuyerPickProps) {
  const [typed, setTyped] = useState('')
  const last = useMemo(() => lastOrders(sales), [sales])
  const found = buyersFound(sales, typed).sort((a, b) => (last.get(b.id)?.due ?? '').localeCompare(last.get(a.id)?.due ?? ''))
  return (
    <section class="card" aria-label={t('orders.buyer.choose')}>
      <h2>{t('orders.buyer.choose')}</h2>
      {sales.buyers.size === 0 && <p>{t('orders.buyers.none')}</p>}
      {sales.buyers.size > shown && (
        <label class="field">
          <span>{t('orders.buyers.find')}</span>
          <input type="search" autocomplete="off" value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
      )}
      <ul class="rows">
        {found.slice(0, shown).map((buyer) => (
          <li key={buyer.id}>
            <button type="button" class="line plain" onClick={() => onPick(buyer.id)}>
              <b>{buyer.name}</b><span class="small">{channelOf(sales, buyer.id)?.name ?? t('orders.channel.none')}</span>
            </button>
          </li>
        ))}
      </ul>
      {found.length > shown && <p class="small">{t('orders.buyers.more', { n: found.length - shown })}</p>}
      <a class="btn" href={href('shed', 'orders', 'buyers', 'new')}>{t('orders.buyer.new')}</a>
    </section>
  )
}
