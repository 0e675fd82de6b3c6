// Of what needs a look, deleted buyers to whom something is still due, among the orders; the shed tells of all.

import { useState } from 'preact/hooks'
import type { Deed } from '../crop/deed'
import { saleLooks } from '../crop/sale_looks'
import type { Buyer, Sales } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { bringBuyerBack } from './buyer_deeds'
import { BuyerGoneCard } from './BuyerGoneCard'
import { doPlanned } from './deeds'

export function GoneBuyers() {
  const looks = useGone()
  const { failure, act } = useActing()
  return (
    <>
      {looks.map((look) => <BuyerGoneCard key={look.buyer.id} look={look} onDeed={act} />)}
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </>
  )
}

/** One deleted buyer on their own page: what is still due to them, and the way back. */
export function GoneBuyer({ buyer }: { readonly buyer: Buyer }) {
  const may = useRights()
  const look = useGone().find((one) => one.buyer.id === buyer.id)
  const { failure, act } = useActing()
  const { name } = buyer
  return (
    <>
      {look ? <BuyerGoneCard look={look} onDeed={act} /> : <p class="note warn">{t('orders.buyer.is_gone')}</p>}
      {!look && may.manage && <button type="button" class="btn" onClick={() => act(() => bringBuyerBack(buyer), t('orders.buyer.back', { name }))}>{t('orders.buyer.bring_back')}</button>}
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </>
  )
}

function useGone() {
  return saleLooks(useNotebook().farm.value, today.value).flatMap((look) => (look.kind === 'buyer_gone' ? [look] : []))
}

function useActing() {
  const notebook = useNotebook()
  const [failure, setFailure] = useState('')
  const act = (plan: (sales: Sales) => Deed, said: string) => { doPlanned(notebook, plan, said).catch((reason: unknown) => setFailure(failureText(reason))) }
  return { failure, act }
}
