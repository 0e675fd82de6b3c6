// All buyers, found by a few letters, each with its channel and its next delivery.

import { useMemo, useState } from 'preact/hooks'
import { addDays } from '../crop/day'
import { dueBetween } from '../crop/due'
import type { Day } from '../crop/nouns'
import { channelOf } from '../crop/price_of'
import type { Buyer, BuyerID } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { buyersFound, buyersNamed } from './buyers'
import { useGrowing } from './use_growing'

export function BuyersPage() {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  const [typed, setTyped] = useState('')
  const next = useMemo(() => {
    const found = new Map<BuyerID, Day>()
    for (const { buyer, day } of dueBetween(sales, today.value, addDays(today.value, 13))) if (!found.has(buyer)) found.set(buyer, day)
    return found
  }, [sales, today.value])
  const found = buyersFound(sales, typed)
  const drawn = useGrowing(found.length)
  return (
    <>
      <PageHead title={t('orders.buyers.title')} back={href('shed', 'orders')} />
      <div class="page orders reading">
        {sales.buyers.size === 0 && <p>{t('orders.buyers.none')}</p>}
        {sales.buyers.size > 8 && (
          <label class="field">
            <span>{t('orders.buyers.find')}</span>
            <input type="search" autocomplete="off" value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
          </label>
        )}
        {typed !== '' && found.length === 0 && <p>{t('orders.buyers.found.none', { typed })}</p>}
        <ul class="rows">
          {found.slice(0, drawn).map(({ id, name }) => {
            const day = next.get(id)
            return (
              <li key={id}>
                <a class="line plain" href={href('shed', 'orders', 'buyers', id)}>
                  <span><b>{name}</b><span class="small block">{channelOf(sales, id)?.name ?? t('orders.channel.none')}</span></span>
                  <span class="small">{day ? dayName(day, today.value) : ''}</span>
                </a>
              </li>
            )
          })}
        </ul>
        <Deleted gone={buyersNamed(sales.goneBuyers.values(), typed)} />
        {may.manage && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'buyers', 'new')}>{t('orders.buyer.new')}</a></div>}
      </div>
    </>
  )
}

/** They can be brought back, and what was packed for them is found by them. */
function Deleted({ gone }: { readonly gone: readonly Buyer[] }) {
  if (gone.length === 0) return null
  return (
    <details>
      <summary>{t('orders.buyers.deleted', { n: gone.length })}</summary>
      <ul class="rows">{gone.map(({ id, name }) => <li key={id}><a class="line plain" href={href('shed', 'orders', 'buyers', id)}><b>{name}</b></a></li>)}</ul>
    </details>
  )
}
