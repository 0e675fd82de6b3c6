// Orders and all that they rest on: buyers, channels, rules for bunches, prices and terms.

import { useEffect } from 'preact/hooks'
import { parseDay } from '../crop/day'
import { dueOf } from '../crop/due'
import { buyerOf } from '../crop/price_of'
import type { BunchID, BuyerID, ChannelID, OrderID, PriceID, StandingID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href, route } from '../ui/route'
import { BunchesPage } from './BunchesPage'
import { BunchFormPage } from './BunchFormPage'
import { BuyerFormPage } from './BuyerFormPage'
import { BuyerPage } from './BuyerPage'
import { BuyersPage } from './BuyersPage'
import { ChannelFormPage } from './ChannelFormPage'
import { ChannelsPage } from './ChannelsPage'
import { pageOpened } from './deeds'
import { DeliveryPage } from './DeliveryPage'
import { LastDone } from './LastDone'
import { OrderFormPage } from './OrderFormPage'
import './orders.css'
import { OrdersPage } from './OrdersPage'
import { PriceFormPage } from './PriceFormPage'
import type { ListOf } from './price_list'
import { PricesPage } from './PricesPage'
import { StandingFormPage } from './StandingFormPage'
import { StandingListPage } from './StandingListPage'
import { StandingPage } from './StandingPage'
import { TermsPage } from './TermsPage'

export function OrdersPlace() {
  const at = route.value.slice(2)
  const where = at.join('/')
  useEffect(pageOpened, [where])
  return (
    <>
      <LastDone />
      <Page key={where} at={at} />
    </>
  )
}

function Page({ at: [page, id = '', more = '', whose = ''] }: { readonly at: readonly string[] }) {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  const changes = ['new', 'change', 'prices', 'terms'].includes(page ?? '') || id === 'new' || more === 'change' || (page === 'channels' || page === 'bunches') && id !== ''
  if (changes && !may.manage) return <OwnersOnly />
  switch (page) {
    case 'from': return <OrdersPage from={parseDay(id)} />
    case 'order': return <DeliveryPage id={id as OrderID} />
    case 'new': return <OrderFormPage before={undefined} buyer={known(id)} />
    case 'change': return <Change id={id as OrderID} />
    case 'standing': return <Standing id={id} more={more} />
    case 'buyers': return <Buyers id={id} more={more} />
    case 'channels': {
      const channel = sales.channels.get(id as ChannelID)
      return id === '' ? <ChannelsPage /> : id === 'new' || channel ? <ChannelFormPage before={channel} /> : <Unknown />
    }
    case 'bunches': {
      const bunch = sales.bunches.get(id as BunchID)
      return id === '' ? <BunchesPage /> : id === 'new' || bunch ? <BunchFormPage before={bunch} /> : <Unknown />
    }
    case 'prices': return <Prices id={id} more={more} whose={whose} />
    case 'terms': return <TermsPage />
    default: return <OrdersPage from={undefined} />
  }
  function known(buyer: string): BuyerID | '' {
    return sales.buyers.has(buyer as BuyerID) ? (buyer as BuyerID) : ''
  }
}

function Change({ id }: { readonly id: OrderID }) {
  const due = dueOf(useNotebook().farm.value.sales, id)
  return due ? <OrderFormPage before={due} buyer={due.buyer} /> : <Unknown />
}

function Standing({ id, more }: { readonly id: string; readonly more: string }) {
  const { sales } = useNotebook().farm.value
  if (id === '') return <StandingListPage />
  if (id === 'new') return <StandingFormPage before={undefined} buyer={sales.buyers.has(more as BuyerID) ? (more as BuyerID) : ''} />
  const standing = sales.standings.get(id as StandingID)
  if (!standing) return <Unknown />
  return more === 'change' ? <StandingFormPage before={standing} buyer={standing.buyer} /> : <StandingPage standing={standing} />
}

function Buyers({ id, more }: { readonly id: string; readonly more: string }) {
  const { sales } = useNotebook().farm.value
  if (id === '') return <BuyersPage />
  if (id === 'new') return <BuyerFormPage before={undefined} />
  const buyer = buyerOf(sales, id as BuyerID)
  if (!buyer) return <Unknown />
  return more === 'change' ? <BuyerFormPage before={buyer} /> : <BuyerPage buyer={buyer} />
}

function Prices({ id, more, whose }: { readonly id: string; readonly more: string; readonly whose: string }) {
  const { sales } = useNotebook().farm.value
  const list = (kind: string, of: string): ListOf | undefined =>
    (kind === 'buyer' && sales.buyers.has(of as BuyerID) ? { buyer: of as BuyerID } : kind === 'channel' && sales.channels.has(of as ChannelID) ? { channel: of as ChannelID } : undefined)
  if (id === '' || id === 'buyer' || id === 'channel') return <PricesPage of={list(id, more)} />
  if (id === 'new') {
    const of = list(more, whose)
    return of ? <PriceFormPage before={undefined} of={of} /> : <Unknown />
  }
  const price = sales.prices.get(id as PriceID)
  return price ? <PriceFormPage before={price} of={price.buyer === '' ? { channel: price.channel } : { buyer: price.buyer }} /> : <Unknown />
}

function OwnersOnly() {
  return (
    <>
      <PageHead title={t('orders.title')} back={href('shed', 'orders')} />
      <p class="page">{t('orders.owner')}</p>
    </>
  )
}

function Unknown() {
  return (
    <>
      <PageHead title={t('orders.title')} back={href('shed', 'orders')} />
      <p class="page">{t('orders.unknown')}</p>
    </>
  )
}
