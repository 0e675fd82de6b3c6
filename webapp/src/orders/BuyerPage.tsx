// One buyer: how to reach them, what they take in place of a colour, and what they get next.

import { addDays } from '../crop/day'
import { dueBetween } from '../crop/due'
import { channelOf } from '../crop/price_of'
import type { Buyer } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { colourCalled, coloursText, lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import { DeleteBuyer } from './DeleteBuyer'
import { Swatches } from './ColourPick'
import { GoneBuyer } from './GoneBuyers'

export function BuyerPage({ buyer }: { readonly buyer: Buyer }) {
  const farm = useNotebook().farm.value
  const { sales } = farm
  const may = useRights()
  const gone = !sales.buyers.has(buyer.id)
  const dues = dueBetween(sales, today.value, addDays(today.value, 27)).filter((due) => due.buyer === buyer.id).slice(0, 6)
  return (
    <>
      <PageHead title={buyer.name} back={href('shed', 'orders', 'buyers')} />
      <div class="page orders">
        <div class="columns">
          <div>
            {gone && <GoneBuyer buyer={buyer} />}
            <p>{channelOf(sales, buyer.id)?.name ?? t('orders.channel.none')}</p>
            {buyer.phone !== '' && <a class="btn" href={`tel:${buyer.phone.replace(/[^\d+]/g, '')}`}>{t('orders.buyer.call', { phone: buyer.phone })}</a>}
            {buyer.email !== '' && <a class="btn" href={`mailto:${encodeURIComponent(buyer.email)}`}>{buyer.email}</a>}
            {buyer.address !== '' && <p class="person-lines">{buyer.address}</p>}
            {buyer.note !== '' && <p class="note">{buyer.note}</p>}
            {[...buyer.accepts].map(([asked, others]) => (
              <p key={asked}><Swatches farm={farm} colours={[asked, ...others]} />{t('orders.accepts.say', { asked: colourCalled(farm, asked), others: coloursText(farm, others) })}</p>
            ))}
          </div>
          <div>
            <h2>{t('orders.buyer.next')}</h2>
            {dues.length === 0 && <p>{t('orders.buyer.next.none')}</p>}
            <div>
              {dues.map((due) => (
                <a key={due.order} class="delivery" href={href('shed', 'orders', 'order', due.order)}>
                  <b>{dayName(due.day, today.value)}</b><span class="small">{due.standing !== '' && t('orders.standing.short')}</span>
                  <ul class="lines">{due.lines.map((line) => <li key={line.id}>{lineText(farm, line)}</li>)}</ul>
                </a>
              ))}
            </div>
            {may.manage && !gone && (
              <div class="links">
                <a class="btn" href={href('shed', 'orders', 'standing', 'new', buyer.id)}>{t('orders.standing.new')}</a>
                <a class="btn" href={href('shed', 'orders', 'prices', 'buyer', buyer.id)}>{t('orders.buyer.prices')}</a>
                <a class="btn" href={href('shed', 'orders', 'buyers', buyer.id, 'change')}>{t('orders.buyer.change')}</a>
              </div>
            )}
            {may.manage && !gone && <DeleteBuyer buyer={buyer} />}
          </div>
        </div>
        {may.manage && !gone && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'new', buyer.id)}>{t('orders.new')}</a></div>}
      </div>
    </>
  )
}
