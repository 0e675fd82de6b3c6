// Deleted buyers of whom lines are still due, which needs a look: bring the buyer back, or withdraw the lines.

import { useState } from 'preact/hooks'
import { withdrawnFact } from '../crop/facts'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { type Deed, doDeed } from './deeds'
import { deleteBuyerAndOpen, goneWithOpen, type Open } from './open_lines'
import { OpenList } from './OpenList'
import type { Buyer } from '../crop/sale_nouns'

export function GoneBuyers() {
  const { sales } = useNotebook().farm.value
  return <>{goneWithOpen(sales, today.value).map(({ buyer, open }) => <GoneBuyer key={buyer.id} buyer={buyer} open={open} />)}</>
}

function GoneBuyer({ buyer, open }: { readonly buyer: Buyer; readonly open: Open }) {
  const notebook = useNotebook()
  const may = useRights()
  const [failure, setFailure] = useState('')
  const act = (deed: Deed, said: string) => { doDeed(notebook, deed, said).catch((reason: unknown) => setFailure(failureText(reason))) }
  const back: Deed = { facts: [withdrawnFact('buyer', buyer.id, false, 'shed')], undo: [withdrawnFact('buyer', buyer.id, true, 'shed')] }
  return (
    <section class="card" aria-label={t('orders.look')}>
      <h2>{t('orders.look')}</h2>
      <p>{t('orders.look.gone', { buyer: buyer.name })}</p>
      <OpenList open={open} />
      {may.manage && (
        <div class="buttons">
          <button type="button" class="btn" onClick={() => act(back, t('orders.buyer.back', { name: buyer.name }))}>{t('orders.buyer.bring_back')}</button>
          <button type="button" class="btn" onClick={() => act(deleteBuyerAndOpen(notebook.farm.peek().sales, buyer, open, today.peek()), t('orders.open.withdrawn', { name: buyer.name }))}>{t('orders.open.withdraw')}</button>
        </div>
      )}
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </section>
  )
}
