// Deleting a channel: whose orders it carries is said first. Nothing of theirs goes with it.

import { useState } from 'preact/hooks'
import { isOpen, openOf } from '../crop/open_lines'
import type { Channel } from '../crop/sale_nouns'
import { listed, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { go } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { buyersOf, deleteChannel } from './buyer_deeds'
import { doDeed } from './deeds'
import { OpenList } from './OpenList'

const namesShown = 6

export function DeleteChannel({ channel }: { readonly channel: Channel }) {
  const notebook = useNotebook()
  const { sales } = notebook.farm.value
  const [asked, setAsked] = useState(false)
  const [failure, setFailure] = useState('')
  const buyers = buyersOf(sales, channel.id)
  const act = async () => {
    try {
      await doDeed(notebook, deleteChannel(channel), t('orders.channel.deleted', { name: channel.name }))
      go('shed', 'orders', 'channels')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const failed = failure !== '' && <p class="note stop" role="alert">{failure}</p>
  if (!asked) return <><button type="button" class="btn" onClick={() => (buyers.length > 0 ? setAsked(true) : void act())}>{t('orders.channel.delete')}</button>{failed}</>
  const theirs = new Set(buyers.map(({ id }) => id))
  const open = openOf(sales, today.value, (id) => theirs.has(id))
  const more = buyers.length - namesShown
  const names = [...buyers.slice(0, namesShown).map(({ name }) => name), ...(more > 0 ? [t('orders.channel.delete.more', { n: more })] : [])]
  return (
    <section class="card" aria-label={t('orders.channel.delete')}>
      <p><b>{t('orders.channel.delete.buyers', { name: channel.name, buyers: listed(names) })}</b></p>
      {isOpen(open) && <OpenList open={open} />}
      <p class="small">{t('orders.channel.delete.safe')}</p>
      <button type="button" class="btn tall" onClick={() => void act()}>{t('orders.channel.delete.anyway')}</button>
      <button type="button" class="btn tall" onClick={() => setAsked(false)}>{t('orders.delete.not')}</button>
      {failed}
    </section>
  )
}
