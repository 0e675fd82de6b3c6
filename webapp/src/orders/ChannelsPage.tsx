// The ways in which the farm sells; crew reads when each is delivered to.

import { type Channel } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { weekdaysText } from '../ui/sale_words'

export function ChannelsPage() {
  const { sales } = useNotebook().farm.value
  const may = useRights()
  const channels = [...sales.channels.values()].sort((a, b) => a.name.localeCompare(b.name))
  const buyers = (channel: Channel) => [...sales.buyers.values()].filter((one) => one.channel === channel.id).length
  return (
    <>
      <PageHead title={t('orders.channels.title')} back={href('shed', 'orders')} />
      <div class="page orders reading">
        {channels.length === 0 && <p>{t('orders.channels.none')}</p>}
        <ul class="rows">
          {channels.map((channel) => {
            const words = <span><b>{channel.name}</b><span class="small block">{t(`orders.channel.kind.${channel.kind}`)} · {weekdaysText(channel.days)} · {cutoffText(channel)}</span></span>
            const n = <span class="small">{t('orders.channel.buyers', { n: buyers(channel) })}</span>
            return (
              <li key={channel.id}>
                {may.manage ? <a class="line plain" href={href('shed', 'orders', 'channels', channel.id)}>{words}{n}</a> : <div class="line plain">{words}{n}</div>}
              </li>
            )
          })}
        </ul>
        {may.manage && <div class="sale-do"><a class="btn main" href={href('shed', 'orders', 'channels', 'new')}>{t('orders.channel.new')}</a></div>}
      </div>
    </>
  )
}

function cutoffText({ cutoffDays, cutoffTime }: Channel): string {
  if (cutoffDays === 0 && cutoffTime === '') return t('orders.channel.cutoff.none')
  const time = cutoffTime || t('orders.channel.cutoff.end')
  return t('orders.channel.cutoff.say', { n: cutoffDays, time })
}
