// What is done about an ask. The bar stands within reach of the thumb, with the answer in short.

import { useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import type { BuyerID } from '../crop/sale_nouns'
import { chanceOf } from '../forecast/asking'
import { sureInHundred } from '../forecast/forecast_words'
import { t } from '../messages/messages'
import { useRights } from '../ui/rights'
import { goInstead, href } from '../ui/route'
import { UndoNote } from '../ui/UndoNote'
import { askDraft, emptyDraft, tellDraft } from './ask_draft'
import { BuyerChips } from './BuyerChips'
import { PromisedPrice } from './PromisedPrice'
import { Reply } from './Reply'
import { type Answering, type Promising, usePromising } from './use_promising'

export function AskDo(answering: Answering) {
  const { farm, asked, told } = answering
  const may = useRights()
  const promising = usePromising(answering)
  /** Stems that are promised as soon as it is said to whom. */
  const [waiting, setWaiting] = useState(0)
  const { kept, isPromised, promisable, wanted, doing, text, area, said, reply, decline } = promising
  const { buyer, bunch } = askDraft.value
  const promise = (stems: number, to: BuyerID | '') => {
    setWaiting(to === '' ? stems : 0)
    if (to !== '') promising.promise(stems, to)
  }
  return (
    <>
      {waiting > 0 && <ToWhom farm={farm} stems={waiting} onChoose={(one) => { tellDraft({ buyer: one }); promise(waiting, one) }} />}
      {may.manage && !isPromised && (
        <>
          {buyer !== '' && promisable > 0 && <PromisedPrice farm={farm} buyer={buyer} bunch={bunch} colours={asked.colours} day={told.day} stems={promisable} />}
          <div class="buttons">
            {wanted > promisable && chanceOf(told, wanted) > 0 && <button type="button" class="btn" onClick={() => promise(wanted, buyer)}>{t('promise.as_asked', { n: wanted })}</button>}
            {asked.stems > 0 && kept?.answer !== 'declined' && <button type="button" class="btn" onClick={decline}>{t('promise.decline')}</button>}
          </div>
        </>
      )}
      {!may.manage && <p class="note">{t('promise.owner_only')}</p>}
      <UndoNote {...doing} />
      {isPromised && kept && kept.order !== '' && <a class="btn" href={href('shed', 'orders', 'order', kept.order)}>{t('promise.order')}</a>}
      <Reply text={text} area={area} said={said} onCopy={reply} />
      <div class="ask-do">
        {!isPromised && (
          <p class="ask-short" role="status">
            {asked.stems > 0 && <><b>{sureInHundred(chanceOf(told, asked.stems))}</b> {t('promise.in_hundred')} · </>}{t('promise.safe.short', { n: promising.safe })}
          </p>
        )}
        <Buttons promising={promising} onPromise={() => promise(promisable, buyer)} />
      </div>
    </>
  )
}

function ToWhom({ farm, stems, onChoose }: { readonly farm: Farm; readonly stems: number; readonly onChoose: (buyer: BuyerID) => void }) {
  return (
    <div class="card" role="group" aria-label={t('promise.buyer')}>
      <h2>{t('promise.to_whom', { stems: t('stems', { n: stems }) })}</h2>
      <BuyerChips farm={farm} label={t('promise.buyer')} chosen="" onChoose={(buyer) => { if (buyer !== '') onChoose(buyer) }} />
      {farm.sales.buyers.size === 0 && <a class="btn" href={href('shed', 'orders', 'buyers', 'new')}>{t('promise.buyer.new')}</a>}
    </div>
  )
}

function Buttons({ promising, onPromise }: { readonly promising: Promising; readonly onPromise: () => void }) {
  const may = useRights()
  const { kept, isPromised, promisable, doing, reply } = promising
  const again = () => {
    doing.forget()
    askDraft.value = emptyDraft()
    goInstead('ahead', 'ask')
    scrollTo(0, 0)
  }
  const isDone = isPromised || kept?.answer === 'declined'
  const mayPromise = may.manage && !isDone && promisable > 0
  return (
    <div class="ask-buttons">
      {isDone && <button type="button" class="btn tall" onClick={again}>{t('promise.again')}</button>}
      <button type="button" class={mayPromise ? 'btn tall' : 'btn main'} onClick={reply}>{t('promise.reply.copy')}</button>
      {mayPromise && <button type="button" class="btn main" onClick={onPromise}>{t('promise.promise', { n: promisable })}</button>}
    </div>
  )
}
