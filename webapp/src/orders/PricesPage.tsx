// Price lists: whose, then by rule a table of what a bunch costs in each colour from each day on.

import { weekOf } from '../crop/week'
import type { Day } from '../crop/nouns'
import { floorOf, belowFloor, channelOf } from '../crop/price_of'
import type { Cents, Channel, Price } from '../crop/sale_nouns'
import { dayAndMonth, dayName, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { colourCalled, qualityText } from '../ui/sale_words'
import { today } from '../ui/today'
import { type ListOf, priceTables, type RuleTable } from './price_list'

export function PricesPage({ of }: { readonly of: ListOf | undefined }) {
  const farm = useNotebook().farm.value
  const { sales } = farm
  const channels = [...sales.channels.values()].sort((a, b) => a.name.localeCompare(b.name))
  const shown: ListOf | undefined = of ?? (channels[0] && { channel: channels[0].id })
  const buyers = [...new Set([...sales.prices.values()].flatMap(({ buyer }) => (buyer === '' ? [] : [buyer])))].flatMap((id) => sales.buyers.get(id) ?? []).sort((a, b) => a.name.localeCompare(b.name))
  const whose = shown && ('buyer' in shown ? sales.buyers.get(shown.buyer)?.name : sales.channels.get(shown.channel)?.name)
  const tables = shown ? priceTables(farm, shown, today.value) : []
  return (
    <>
      <PageHead title={t('orders.prices.title')} back={href('shed', 'orders')} />
      <div class="page orders">
        <p class="small reading">{t('orders.prices.why')}</p>
        {channels.length === 0 && <p>{t('orders.channels.none')} <a href={href('shed', 'orders', 'channels', 'new')}>{t('orders.channel.new')}</a></p>}
        <nav class="choices" aria-label={t('orders.prices.whose')}>
          {channels.map(({ id, name }) => <a key={id} class="btn" aria-current={shown && 'channel' in shown && shown.channel === id ? 'page' : undefined} href={href('shed', 'orders', 'prices', 'channel', id)}>{name}</a>)}
          {buyers.map(({ id, name }) => <a key={id} class="btn" aria-current={shown && 'buyer' in shown && shown.buyer === id ? 'page' : undefined} href={href('shed', 'orders', 'prices', 'buyer', id)}>{name}</a>)}
        </nav>
        {shown && whose !== undefined && <h2>{t('buyer' in shown ? 'orders.prices.of_buyer' : 'orders.prices.of_channel', { name: whose })}</h2>}
        {shown && tables.length === 0 && <p>{t('buyer' in shown ? 'orders.prices.none.buyer' : 'orders.prices.none')}</p>}
        <div class="columns">{tables.map((table) => <OneRule key={table.bunch?.id ?? 'gone'} table={table} channel={channelShown(shown)} />)}</div>
        {shown && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'prices', 'new', ...('buyer' in shown ? ['buyer', shown.buyer] : ['channel', shown.channel]))}>{t('orders.price.new')}</a></div>}
      </div>
    </>
  )
  function channelShown(list: ListOf | undefined): Channel | undefined {
    return list && ('buyer' in list ? channelOf(sales, list.buyer) : sales.channels.get(list.channel))
  }
}

function OneRule({ table: { bunch, rows }, channel }: { readonly table: RuleTable; readonly channel: Channel | undefined }) {
  const farm = useNotebook().farm.value
  const money = (cents: Cents) => amount(cents, farm.sales.terms.currency)
  const floor = bunch && channel ? floorOf(channel, bunch.grade) : (0 as Cents)
  const below = (price: Price) => bunch !== undefined && floor > 0 && belowFloor(price.cents, floor, bunch.stems)
  return (
    <section class="card">
      <h2>{bunch?.name ?? t('orders.rule.gone')}</h2>
      {bunch && <p class="small">{[t('orders.stems', { n: bunch.stems }), qualityText(farm, bunch)].filter((part) => part !== '').join(', ')}</p>}
      <table class="prices">
        <thead><tr><th scope="col">{t('orders.price.colour')}</th><th scope="col">{t('orders.price.from')}</th><th scope="col">{t('orders.price.bunch')}</th></tr></thead>
        <tbody>
          {rows.map(({ price, state }, i) => (
            <tr key={price.id} class={state === 'past' ? 'past-price' : undefined}>
              <td>{rows[i - 1]?.price.colour !== price.colour && (price.colour === '' ? t('orders.price.any') : <span class="price-colour"><Head swatch={farm.colours.get(price.colour)?.swatch ?? ''} size={26} />{colourCalled(farm, price.colour)}</span>)}</td>
              <td><From day={price.from} />{state === 'holds' && <b class="block">{t('orders.price.now')}</b>}</td>
              <td>
                <a href={href('shed', 'orders', 'prices', price.id)} aria-label={t('orders.price.change', { price: money(price.cents) })}>
                  {state === 'holds' ? <b>{money(price.cents)}</b> : money(price.cents)}
                </a>
                {below(price) && <span class="below"><Icon name="warn" />{t('orders.price.below')}</span>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {bunch && rows.some(({ price }) => below(price)) && <p class="note warn">{t('orders.price.floor', { stems: bunch.stems, floor: money(floor), grade: t(`grade.${bunch.grade === '' ? 'second' : bunch.grade}`), least: money((floor * bunch.stems) as Cents) })}</p>}
    </section>
  )
}

/** From which day, with its week; with the year where it is not this one. */
function From({ day }: { readonly day: Day | '' }) {
  if (day === '') return <>{t('orders.price.always')}</>
  return <>{day.slice(0, 4) === today.value.slice(0, 4) ? dayAndMonth(day) : dayName(day, today.value)}<span class="small block">{t('orders.week', { n: String(weekOf(day).number) })}</span></>
}
