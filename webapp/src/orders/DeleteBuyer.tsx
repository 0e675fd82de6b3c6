// Deleting a buyer: which lines are still due is said first, and what becomes of them is chosen.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Deed } from '../crop/deed'
import { isOpen, openOf } from '../crop/open_lines'
import type { Buyer, Sales } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { go } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { deleteBuyer, deleteBuyerAndOpen } from './buyer_deeds'
import { doPlanned } from './deeds'
import { OpenList } from './OpenList'

export function DeleteBuyer({ buyer }: { readonly buyer: Buyer }) {
  const notebook = useNotebook()
  const { sales } = notebook.farm.value
  const [asked, setAsked] = useState(false)
  const [failure, setFailure] = useState('')
  const question = useRef<HTMLElement>(null)
  // It opens at the foot of a long page, below what a phone shows.
  useEffect(() => { if (asked) question.current?.scrollIntoView({ block: 'start', behavior: 'smooth' }) }, [asked])
  const openIn = (now: Sales) => openOf(now, today.value, (id) => id === buyer.id)
  const open = openIn(sales)
  const act = async (plan: (now: Sales) => Deed) => {
    try {
      await doPlanned(notebook, plan, t('orders.buyer.deleted', { name: buyer.name }))
      go('shed', 'orders', 'buyers')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  if (!asked) {
    return (
      <>
        <button type="button" class="btn" onClick={() => (isOpen(open) ? setAsked(true) : void act(() => deleteBuyer(buyer)))}>{t('orders.buyer.delete')}</button>
        {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
      </>
    )
  }
  return (
    <section ref={question} class="card" aria-label={t('orders.buyer.delete')}>
      <p><b>{t('orders.delete.open', { name: buyer.name })}</b></p>
      <OpenList open={open} />
      <p class="small">{t('orders.delete.safe')}</p>
      <button type="button" class="btn tall" onClick={() => void act((now) => deleteBuyerAndOpen(now, buyer, openIn(now), today.peek()))}>{t('orders.delete.with')}</button>
      <button type="button" class="btn tall" onClick={() => void act(() => deleteBuyer(buyer))}>{t('orders.delete.keep')}</button>
      <button type="button" class="btn tall" onClick={() => setAsked(false)}>{t('orders.delete.not')}</button>
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </section>
  )
}
